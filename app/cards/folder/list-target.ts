import { AppError } from '../../errors/app-error.ts'
import type { TargetListing } from '../../model/target.ts'
import type { TargetFolder } from '../../ports/target-folder.ts'

/** What everything is written into before it gets its place: eight and three upper-case letters take one slot. */
export const TEMPORARY_FOLDER = 'CARDWRIT.TMP'
/** The second one, for seating everything anew. */
export const SEATING_FOLDER = 'CARDSEAT.TMP'

/** A card has a few thousand files; a folder with more is no card. */
const MOST_FILES = 50_000
const DEEPEST = 64

export interface ListingRules {
  /** Whether an operating system leaves such a name behind. */
  isLitter(name: string, isFolder: boolean): boolean
  /** Paths that are never litter, whatever they are called: what is to be on the card. */
  isPlanned(path: string): boolean
  cancel(): void
}

/**
 * Lists a target without opening a file.
 * @throws AppError `target/no-card` where there is more than any card holds; those of `TargetFolder`
 */
export function listTarget(target: Pick<TargetFolder, 'list'>, rules: ListingRules): TargetListing {
  const files: { path: string; sizeBytes: number }[] = []
  const folders: string[] = []
  const emptyFolders: string[] = []
  const others: string[] = []
  const litter: { path: string; isFolder: boolean }[] = []
  const leftovers: string[] = []

  function enter(folder: string, depth: number): void {
    const entries = target.list(folder)
    if (entries.length === 0 && folder !== '') emptyFolders.push(folder)
    for (const { name, kind, sizeBytes } of entries) {
      rules.cancel()
      const path = folder === '' ? name : `${folder}/${name}`
      const isFolder = kind === 'folder'
      if (folder === '' && isFolder && isTemporary(name)) {
        leftovers.push(name)
        continue
      }
      if (!rules.isPlanned(path) && rules.isLitter(name, isFolder)) {
        litter.push({ path, isFolder })
        continue
      }
      if (isFolder) {
        if (depth === DEEPEST) throw noCard(`It has folders more than ${DEEPEST} deep.`)
        folders.push(path)
        enter(path, depth + 1)
      } else if (kind === 'other') others.push(path)
      else if (files.push({ path, sizeBytes }) > MOST_FILES) {
        throw noCard(`There are more than ${MOST_FILES} files in it.`)
      }
    }
  }

  enter('', 0)
  return { files, folders, emptyFolders, others, litter, leftovers }
}

function isTemporary(name: string): boolean {
  const upper = name.toUpperCase()
  return upper === TEMPORARY_FOLDER || upper === SEATING_FOLDER
}

function noCard(what: string): AppError {
  return new AppError({
    code: 'target/no-card',
    what,
    where: '',
    mend: 'Name the root of a card, or an empty folder.',
  })
}
