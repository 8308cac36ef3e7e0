import { Option, type Command } from 'commander'
import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import { AppError } from '../../app/errors/app-error.ts'
import { inUnits } from '../../app/model/in-units.ts'
import { printable } from './printable.ts'
import type { Ask, Session } from './session.ts'
import { counted } from './table.ts'

/** Where content goes: an image, or a folder file by file. */
export interface TargetChoice {
  readonly image?: string
  readonly into?: string
  readonly replace?: boolean
}

/** Adds `--image`, `--into` and `--replace`. */
export function withTargetChoice(command: Command): Command {
  return command
    .addOption(new Option('--image <file>', 'the image to write'))
    .addOption(
      new Option('--into <dir>', 'write file by file instead: to a mounted card, or into a folder').conflicts(
        'image',
      ),
    )
    .option(
      '--replace',
      'the image may replace a file of that name; in a card or folder, what is neither planned nor on record may be removed',
    )
}

/** The target as a whole path. @throws AppError `usage` where none was named */
export function targetOf(
  { image, into }: TargetChoice,
  session: Session,
): { readonly imagePath: string } | { readonly into: string } {
  if (into !== undefined) return { into: session.resolvePath(into) }
  if (image !== undefined) return { imagePath: session.resolvePath(image) }
  throw new AppError({
    code: 'usage',
    what: 'It was not said where the content goes.',
    where: '',
    mend: 'Add --image FILE, or --into DIR with the folder that the card is mounted at.',
  })
}

/** Says what is overwritten, and what else to know, before anything is. */
export async function tellCautions(
  request: RequestOf<'targets:judge'>,
  ask: Ask,
  session: Session,
): Promise<void> {
  const { cautions } = await ask('targets:judge', request)
  for (const caution of cautions) session.say(printable(`Note: ${caution}`))
}

/** What was written, what was taken away, and what is to be done now. */
export function writtenLines(written: ResponseOf<'make:into'>['written']): string[] {
  const { kind, fileSystem, filesWritten, bytesWritten, filesLeft, removed, litterRemoved } = written
  const where = kind === 'card' ? 'Card' : 'Folder'
  return [
    `${where.padEnd(13)}${written.into}${fileSystem === '' ? '' : ` (${fileSystem})`}`,
    `Written      ${counted(filesWritten, 'file')}, ${inUnits(bytesWritten)}; ${counted(filesLeft, 'file')} right already`,
    ...removedLines('Removed', removed),
    ...removedLines('Litter', litterRemoved),
    ...(written.wasReseated
      ? ['Order        free places in the used folder had broken it; everything was seated anew']
      : []),
  ].map(printable)
}

const NAMED_REMOVED = 8

function removedLines(word: string, paths: readonly string[]): string[] {
  if (paths.length === 0) return []
  const more = paths.length - NAMED_REMOVED
  const named = paths.slice(0, NAMED_REMOVED).join(', ')
  return [`${word.padEnd(13)}${named}${more > 0 ? ` and ${more} more` : ''}`]
}
