import { InvalidArgumentError, Option, type Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { AppError } from '../../app/errors/app-error.ts'
import type { CardSizeAsked } from '../../app/model/card-as-sold.ts'
import { cardSizeOption, toldSize } from './card-size-option.ts'
import { selectionOf, withFontChoice, type FontChoice } from './chosen-fonts.ts'
import { examples } from './examples.ts'
import { keptLines } from './kept-lines.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import { sizeText } from './size-command.ts'
import { table } from './table.ts'
import { verifyText } from './verify-command.ts'

interface MakeOptions extends FontChoice {
  readonly card?: CardSizeAsked
  readonly image: string
  readonly replace?: boolean
  readonly prepare?: boolean
  readonly accept: readonly { readonly rule: string; readonly path: string | null }[]
  readonly reason?: string
}

export function registerMake(program: Command, session: Session): void {
  withFontChoice(
    program
      .command('make')
      .description(
        'make a card image of fonts that are ready or prepared, read it back and record what is on it',
      ),
  )
    .addOption(cardSizeOption())
    .requiredOption('--image <file>', 'the image to write')
    .option('--replace', 'the image may replace a file of that name')
    .option('--prepare', 'prepare the fonts for the board first (see `prepare`)')
    .addOption(
      new Option('--accept <rule[:path]>', 'make the card in spite of this finding; may be repeated')
        .argParser(collectAccepted)
        .default([], 'none'),
    )
    .option('--reason <text>', 'why they are accepted; kept in the record')
    .addHelpText(
      'after',
      examples(
        'make "Harbour Bell" "Ember Loom" --board bench-44 --card 16GB --image card.img',
        'make --build EX-101 --image EX-101.img',
      ),
    )
    .action((words: string[], options: MakeOptions) =>
      session.withCore(async (ask) => {
        const report = await ask('make', {
          ...(await selectionOf(ask, words, options)),
          ...(options.card === undefined ? {} : { cardBytes: options.card.cardBytes }),
          imagePath: session.resolvePath(options.image),
          replace: options.replace === true,
          ...(options.prepare === true ? { prepare: true } : {}),
          accept: acceptedOf(options),
        })
        return {
          document: report,
          text: [...toldSize(options.card), makeText(report)].join('\n'),
          holds: report.verified,
        }
      }),
    )
}

function collectAccepted(text: string, earlier: MakeOptions['accept']): MakeOptions['accept'] {
  const at = text.indexOf(':')
  const rule = at === -1 ? text : text.slice(0, at)
  if (rule === '') throw new InvalidArgumentError('Write it as RULE or RULE:PATH.')
  return [...earlier, { rule, path: at === -1 ? null : text.slice(at + 1) }]
}

function acceptedOf({ accept, reason }: MakeOptions) {
  if (accept.length > 0 && (reason === undefined || reason.trim() === '')) {
    throw new AppError({
      code: 'usage',
      what: 'A finding is accepted with a reason, which the record keeps.',
      where: '--accept',
      mend: 'Add --reason TEXT.',
    })
  }
  return accept.map((each) => ({ ...each, reason: reason ?? '' }))
}

/** What was made, where it lies and that it was read back. */
export function makeText(report: ResponseOf<'make'>): string {
  return [
    table(
      ['number', 'folder', 'font', 'version'],
      report.fonts.map((font) => [
        font.slot,
        font.folder,
        font.font,
        font.version === '' ? null : font.version,
      ]),
    ),
    '',
    sizeText(report.size),
    '',
    printable(`Image        ${report.imagePath}`),
    `Fingerprint  ${report.fingerprint}`,
    `Image hash   ${report.imageHash}`,
    ...(report.withoutLicence.length === 0
      ? []
      : [printable(`No licence on record for: ${report.withoutLicence.join(', ')}`)]),
    ...keptLines(report.kept),
    verifyText(report.verify),
  ].join('\n')
}
