import { AppError } from '../../../app/errors/app-error.ts'
import type { ObservedFile } from '../../../app/model/observed-card.ts'
import { companionKind, kindOfFile } from '../../../app/usecases/scan/file-kinds.ts'

/** A card has a few thousand files; a folder with more is no card. */
export const MOST_FILES = 50_000
const LARGEST_TEXT_BYTES = 256 << 10

/** What a file of a card is, by its name. An archive is nothing to a board. */
export function observedKind(path: string): ObservedFile['kind'] {
  const kind = kindOfFile(path.slice(path.lastIndexOf('/') + 1))
  return kind === 'zip' || kind === 'other-archive' ? 'other' : kind
}

/** Whether a file may be the board's config: a small text of the root. */
export function isRootText(path: string, sizeBytes: number): boolean {
  return !path.includes('/') && companionKind(path) === 'text' && sizeBytes <= LARGEST_TEXT_BYTES
}

export function tooManyFiles(where: string): AppError {
  return new AppError({
    code: 'observe/too-many-files',
    what: `There are more than ${MOST_FILES} files below it.`,
    where,
    mend: 'Name the root of a card, not a whole disk.',
  })
}
