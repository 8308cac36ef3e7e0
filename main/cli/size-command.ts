import type { Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import type { CardSizeAsked } from '../../app/model/card-as-sold.ts'
import { inUnits } from '../../app/model/in-units.ts'
import { wayInWords } from '../../app/model/way-to-fit.ts'
import { cardSizeOption, toldSize } from './card-size-option.ts'
import { selectionOf, withFontChoice, type FontChoice } from './chosen-fonts.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import { counted, table } from './table.ts'

/** `size`: what a card of some fonts takes, in bytes. Holds where they fit. */
export function registerSize(program: Command, session: Session): void {
  withFontChoice(program.command('size').description('what a card of these fonts takes, to the byte'))
    .addOption(cardSizeOption())
    .addHelpText(
      'after',
      examples('size "Harbour Bell" "Ember Loom" --board bench-44 --card 16GB', 'size --build EX-101'),
    )
    .action((words: string[], options: FontChoice & { card?: CardSizeAsked }) =>
      session.withCore(async (ask) => {
        const report = await ask('size', {
          ...(await selectionOf(ask, words, options)),
          ...(options.card === undefined ? {} : { cardBytes: options.card.cardBytes }),
        })
        return {
          document: report,
          text: [...toldSize(options.card), sizeText(report)].join('\n'),
          holds: report.fits,
        }
      }),
    )
}

/** The table of fonts, the sum, and whether it fits. */
export function sizeText(report: ResponseOf<'size'>): string {
  const rows = report.fonts.map((font) => [
    printable(font.folder),
    font.files,
    font.contentBytes,
    font.slackBytes,
    font.directoryBytes,
    font.usedBytes,
  ])
  const verdict = report.fits
    ? `It fits: ${report.usedBytes} bytes used (${inUnits(report.usedBytes)}), ${inUnits(report.freeBytes)} free.`
    : `It does not fit: ${report.usedBytes} bytes used (${inUnits(report.usedBytes)}), ${report.missingBytes} too many (${inUnits(report.missingBytes)}).`
  return [
    table(['folder', 'files', 'content', 'slack', 'directories', 'together'], rows),
    'Content, slack, directories and their sum are in bytes.',
    '',
    `${report.fileSystem.toUpperCase()}, clusters of ${inUnits(report.clusterBytes)}, image of ${report.imageBytes} bytes (${inUnits(report.imageBytes)}).`,
    verdict,
    ...waysLines(report.waysToFit),
    ...readCostLines(report.readCost),
  ].join('\n')
}

/** How many sectors opening takes as the card is planned, and as it were in the order of names. */
function readCostLines(cost: ResponseOf<'size'>['readCost']): string[] {
  if (cost === null) return []
  const { first, last, folder, limitSectors } = cost
  const reads = `To open a sound in ${folder}, its largest folder, the board reads ${counted(first.sectors, 'sector')} for the first and ${last.sectors} for the last (${first.sectorsByName} and ${last.sectorsByName} were it in the order of names).`
  const slow = `Slow to open: the board stands ${limitSectors} sectors. Shorter names, or fewer files in ${folder}, make it quicker.`
  return [reads, ...(cost.isWithinLimit ? [] : [slow])].map(printable)
}

function waysLines(ways: ResponseOf<'size'>['waysToFit']): string[] {
  if (ways.length === 0) return []
  return ['It would fit', ...ways.map((way) => printable(`  ${wayInWords(way)}`))]
}
