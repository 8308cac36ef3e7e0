import { InvalidArgumentError, Option, type Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { AppError } from '../../app/errors/app-error.ts'
import type { CardSizeAsked } from '../../app/model/card-as-sold.ts'
import { cardSizeOption, toldSize } from './card-size-option.ts'
import { selectionOf, withFontChoice, type FontChoice } from './chosen-fonts.ts'
import { cautionLines } from './caution-lines.ts'
import { examples } from './examples.ts'
import { keptLines } from './kept-lines.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import { sizeText } from './size-command.ts'
import { table } from './table.ts'
import {
  targetOf,
  tellCautions,
  withTargetChoice,
  writtenLines,
  type TargetChoice,
} from './target-options.ts'
import { verifyText } from './verify-command.ts'

interface MakeOptions extends FontChoice, TargetChoice {
  readonly card?: CardSizeAsked
  readonly prepare?: boolean
  readonly accept: readonly { readonly rule: string; readonly path: string | null }[]
  readonly reason?: string
}

/** `make`: a card as an image or in place, read back and recorded. Holds where it reads back as planned. */
export function registerMake(program: Command, session: Session): void {
  withTargetChoice(
    withFontChoice(
      program
        .command('make')
        .description(
          'make a card of fonts that are ready or prepared, as an image or in place, read it back and record what is on it',
        ),
    ).addOption(cardSizeOption()),
  )
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
        'make --build EX-101 --into /media/card',
      ),
    )
    .action((words: string[], options: MakeOptions) =>
      session.withCore(async (ask) => {
        const target = targetOf(options, session)
        const accept = acceptedOf(options)
        const selection = await selectionOf(ask, words, options)
        const request = {
          ...selection,
          ...(options.card === undefined ? {} : { cardBytes: options.card.cardBytes }),
          replace: options.replace === true,
          ...(options.prepare === true ? { prepare: true } : {}),
          accept,
        }
        if ('into' in target) {
          await tellCautions({ ...selection, into: target.into }, ask, session)
          const report = await ask('make:into', { ...request, into: target.into })
          const text = [...toldSize(options.card), makeIntoText(report)].join('\n')
          return { document: report, text, holds: report.verified }
        }
        const report = await ask('make', { ...request, imagePath: target.imagePath })
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
    ...fontLines(report),
    printable(`Image        ${report.imagePath}`),
    `Fingerprint  ${report.fingerprint}`,
    `Image hash   ${report.imageHash}`,
    ...licenceLines(report),
    ...cautionLines(report),
    ...keptLines(report.kept),
    verifyText(report.verify),
  ].join('\n')
}

function makeIntoText(report: ResponseOf<'make:into'>): string {
  return [
    ...fontLines(report),
    ...writtenLines(report.written),
    `Fingerprint  ${report.fingerprint}`,
    ...licenceLines(report),
    ...cautionLines(report),
    ...keptLines(report.kept),
    verifyText(report.verify),
    '',
    ...report.written.next.map(printable),
  ].join('\n')
}

function fontLines({ fonts, size }: Pick<ResponseOf<'make'>, 'fonts' | 'size'>): string[] {
  const rows = fonts.map((font) => [
    font.slot,
    font.folder,
    font.font,
    font.version === '' ? null : font.version,
  ])
  return [table(['number', 'folder', 'font', 'version'], rows), '', sizeText(size), '']
}

function licenceLines({ withoutLicence }: Pick<ResponseOf<'make'>, 'withoutLicence'>): string[] {
  return withoutLicence.length === 0
    ? []
    : [printable(`No licence on record for: ${withoutLicence.join(', ')}`)]
}
