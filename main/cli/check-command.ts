import type { Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { fontTitle } from '../../app/usecases/find-font.ts'
import { selectionOf, withFontChoice, type FontChoice } from './chosen-fonts.ts'
import { examples } from './examples.ts'
import { findingLines } from './finding-lines.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import { verdictWords } from './verdict-words.ts'

export function registerCheck(program: Command, session: Session): void {
  withFontChoice(
    program
      .command('check')
      .description('what a board would make of fonts: every finding, why it matters, how to mend it'),
  )
    .addHelpText(
      'after',
      examples('check --board bench-44', 'check "Harbour Bell" Thornwick --board bench-44'),
    )
    .action((words: string[], choice: FontChoice) =>
      session.withCore(async (ask) => {
        const report = await ask('check', await selectionOf(ask, words, choice))
        return { document: report, text: checkText(report), holds: checkHolds(report) }
      }),
    )
}

/** No finding of severity error, and every font's roles known. */
function checkHolds(report: ResponseOf<'check'>): boolean {
  return (
    report.fonts.every((font) => font.verdict.errorCount === 0 && font.verdict.word === 'ready') &&
    report.cardFindings.every((finding) => finding.severity !== 'error')
  )
}

function checkText(report: ResponseOf<'check'>): string {
  if (report.fonts.length === 0) return 'The library is empty; `cardwright scan DIR` fills it.'
  const lines = [printable(`Checked for ${report.board} (${report.boardTitle})`)]
  for (const font of report.fonts) {
    lines.push('', printable(`${fontTitle(font.font, font.version)}: ${verdictWords(font.verdict)}`))
    lines.push(...font.findings.flatMap(findingLines))
  }
  if (report.cardFindings.length > 0) {
    lines.push('', 'All of them on one card:', ...report.cardFindings.flatMap(findingLines))
  }
  return lines.join('\n')
}
