import type { Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { inLines, type ErrorReport } from '../../app/errors/app-error.ts'
import { inUnits } from '../../app/model/in-units.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'
import { table } from './table.ts'

/** `cards drives` and `cards target`: where a card could be written to. */
export function registerDrives(cards: Command, session: Session): void {
  cards
    .command('drives')
    .description('removable drives that a card may be in, and what their credits name')
    .addHelpText('after', examples('cards drives'))
    .action(() =>
      session.withCore(async (ask) => {
        const list = await ask('drives:list', {})
        return reply(list, drivesText(list))
      }),
    )
  cards
    .command('target')
    .description('what stands for and against writing to a card or folder; nothing is written')
    .argument('<dir>', 'the folder that the card is mounted at, or any other')
    .option('--board <id>', 'the board that is to read it')
    .option('--content <content>', 'what is to be written, by its fingerprint or its build')
    .addHelpText('after', examples('cards target /media/card --board bench-44'))
    .action((dir: string, { board, content }: { board?: string; content?: string }) =>
      session.withCore(async (ask) => {
        const report = await ask('targets:judge', {
          into: session.resolvePath(dir),
          ...(board === undefined ? {} : { boardId: board }),
          ...(content === undefined ? {} : { content }),
        })
        return { document: report, text: targetText(report), holds: report.refusal === null }
      }),
    )
}

function drivesText({ drives }: ResponseOf<'drives:list'>): string {
  if (drives.length === 0) {
    return 'No removable drive was found. Put the card in; where the system shows it only as a folder, name that folder.'
  }
  return table(
    ['path', 'label', 'file system', 'size', 'free', 'content', 'drive'],
    drives.map((drive) => [
      drive.path ?? 'not mounted',
      drive.label === '' ? null : drive.label,
      drive.fileSystem === '' ? null : drive.fileSystem,
      drive.sizeBytes === null ? null : inUnits(drive.sizeBytes),
      drive.freeBytes === null ? null : inUnits(drive.freeBytes),
      drive.holds,
      [drive.model, drive.device, drive.connection].filter((word) => word !== '').join(', '),
    ]),
  )
}

/** Most strangers that are named. */
const NAMED_STRANGERS = 20

function refusalLines(refusal: ErrorReport): readonly string[] {
  const [sentence, ...steps] = inLines(refusal)
  return [`Refused: ${sentence}`, ...steps]
}

function targetText(report: ResponseOf<'targets:judge'>): string {
  const { fileSystem, clusterBytes, freeBytes, strangers, strangerCount } = report
  const facts = [
    ...(fileSystem === '' ? [] : [fileSystem]),
    ...(clusterBytes === null ? [] : [`clusters of ${inUnits(clusterBytes)}`]),
    ...(freeBytes === null ? [] : [`${inUnits(freeBytes)} free`]),
  ]
  const unnamed = strangerCount - Math.min(strangerCount, NAMED_STRANGERS)
  return [
    `${report.kind === 'card' ? 'Card' : 'Folder'} ${report.into}${facts.length === 0 ? '' : `: ${facts.join(', ')}`}`,
    ...(report.holds === null ? [] : [`Its credits name the content ${report.holds}.`]),
    ...(report.neededBytes === null ? [] : [`Needed at most: ${inUnits(report.neededBytes)}`]),
    ...strangers.slice(0, NAMED_STRANGERS).map((path) => `  not on record  ${path}`),
    ...(unnamed > 0 ? [`  and ${unnamed} more`] : []),
    ...report.cautions.map((caution) => `Note: ${caution}`),
    ...(report.refusal === null ? [] : refusalLines(report.refusal)),
  ]
    .map(printable)
    .join('\n')
}
