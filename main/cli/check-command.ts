import type { Command } from 'commander'
import { stat } from 'node:fs/promises'
import { verdictWords } from '../../app/boards/verdict-words.ts'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { AppError } from '../../app/errors/app-error.ts'
import { fontTitle } from '../../app/usecases/find-font.ts'
import { fontsOf, selectionOf, withFontChoice, type FontChoice } from './chosen-fonts.ts'
import { examples } from './examples.ts'
import { findingLines } from './finding-lines.ts'
import { printable } from './printable.ts'
import type { Ask, Session } from './session.ts'

/** `check`: what a board makes of fonts, or of a card as it lies there. Holds where no font has an error. */
export function registerCheck(program: Command, session: Session): void {
  withFontChoice(
    program
      .command('check')
      .description(
        'what a board would make of fonts, or of a card in its folder or image: every finding, why it matters, how to mend it',
      ),
  )
    .option('--prepared', 'judge what a card would get: prepared sounds in the place of their originals')
    .option('--report <file>', "write a page for the fonts' creator too (HTML; names no client)")
    .addHelpText(
      'after',
      examples(
        'check --board bench-44',
        'check "Harbour Bell" Thornwick --board bench-44',
        'check Thornwick --board bench-44 --report thornwick.html',
        'check --build EX-101 --prepared',
        'check /media/card --board bench-44',
        'check harbour.img --board bench-44',
      ),
    )
    .action((words: string[], choice: FontChoice & { report?: string; prepared?: boolean }) =>
      session.withCore(async (ask) => {
        const card = await cardAt(ask, session, words, choice)
        if (card !== null) {
          const boardId = choice.board ?? (await ask('workshop:status', {})).defaultBoardId
          const page = choice.report === undefined ? undefined : session.resolvePath(choice.report)
          const report = await ask('check:card', {
            from: card,
            boardId,
            ...(page === undefined ? {} : { reportPath: page }),
          })
          if (page !== undefined) session.say(`The page for the creators is ${printable(page)}.`)
          return { document: report, text: cardText(report, card), holds: cardHolds(report) }
        }
        const report = await ask('check', {
          ...(await selectionOf(ask, words, choice)),
          ...(choice.prepared === true ? { asPrepared: true } : {}),
        })
        if (choice.report !== undefined) {
          const path = session.resolvePath(choice.report)
          await writeReport(ask, report, path)
          session.say(`The page for the creator is ${printable(path)}.`)
        }
        return { document: report, text: checkText(report), holds: checkHolds(report) }
      }),
    )
}

/** Fonts as they were checked, for their creator: a page of its own. @throws AppError `report/empty`, and of `check:report` */
async function writeReport(ask: Ask, report: ResponseOf<'check'>, path: string): Promise<void> {
  const editionIds = report.fonts.map((font) => font.editionId)
  if (editionIds.length === 0) {
    throw new AppError({
      code: 'report/empty',
      what: 'There is no font to report on.',
      where: path,
      mend: '`cardwright scan DIR` fills the library.',
    })
  }
  await ask('check:report', { boardId: report.board, editionIds, reportPath: path })
}

/** The one word as a card's folder or image, where no font is so called; null where fonts are meant. */
async function cardAt(
  ask: Ask,
  session: Session,
  words: readonly string[],
  choice: FontChoice,
): Promise<string | null> {
  const [word] = words
  if (word === undefined || words.length > 1 || choice.build !== undefined) return null
  const path = session.resolvePath(word)
  const isThere = await stat(path).then(
    (facts) => facts.isDirectory() || facts.isFile(),
    () => false,
  )
  if (!isThere) return null
  return fontsOf(ask, words).then(
    () => null,
    (error: unknown) => {
      if (error instanceof AppError && error.code === 'font/unknown') return path
      throw error
    },
  )
}

function cardHolds(report: ResponseOf<'check:card'>): boolean {
  return (
    report.fonts.every((font) => font.verdict.word === 'ready') &&
    report.cardFindings.every((finding) => finding.severity !== 'error')
  )
}

function cardText(report: ResponseOf<'check:card'>, card: string): string {
  const lines = [printable(`Checked ${card} for ${report.board} (${report.boardTitle}), as it lies there`)]
  for (const font of report.fonts) {
    lines.push(
      '',
      printable(`${font.folder}: ${verdictWords(font.verdict)}`),
      ...font.findings.flatMap(findingLines),
    )
  }
  if (report.cardFindings.length > 0)
    lines.push('', 'The whole card:', ...report.cardFindings.flatMap(findingLines))
  return lines.join('\n')
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
