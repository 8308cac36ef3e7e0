import { AppError } from '../../errors/app-error.ts'
import type { TargetListing } from '../../model/target.ts'
import type { TargetFolder } from '../../ports/target-folder.ts'

/** Trash and what a file system's check has found: people may still want what is in them. */
const KEPT_LITTER = /^(\.trash.*|\$recycle\.bin|recycler|found\.\d+|lost\+found)$/i

/** Removes a folder with all that is in it; nothing where it is not there. */
export function removeTree(target: TargetFolder, path: string): void {
  const slash = path.lastIndexOf('/')
  const parent = path.slice(0, Math.max(0, slash))
  if (!target.list(parent).some(({ name }) => name === path.slice(slash + 1))) return
  emptyOut(target, path)
  target.removeFolder(path)
}

function emptyOut(target: TargetFolder, folder: string): void {
  for (const { name, kind } of target.list(folder)) {
    const path = `${folder}/${name}`
    if (kind === 'folder') {
      emptyOut(target, path)
      target.removeFolder(path)
    } else target.removeFile(path)
  }
}

/** Removes files and links; empty folders among the paths are left to `removeEmptied`. */
export function removeFiles(target: TargetFolder, paths: readonly string[], listing: TargetListing): void {
  const isFolder = new Set(listing.folders)
  for (const path of paths) if (!isFolder.has(path)) target.removeFile(path)
}

/**
 * Removes those folders of the listing that are empty by now, or hold nothing but litter. What has come
 * since the listing stays.
 */
export function removeEmptied(
  target: TargetFolder,
  listing: TargetListing,
  isLitter: (name: string, isFolder: boolean) => boolean,
): void {
  for (const folder of listing.folders.toReversed()) {
    const entries = target.list(folder)
    if (entries.some(({ name, kind }) => !isLitter(name, kind === 'folder') || KEPT_LITTER.test(name)))
      continue
    emptyOut(target, folder)
    target.removeFolder(folder)
  }
}

/**
 * Removes what operating systems left behind. Trash that holds something stays, and so does what the
 * system keeps a hand on.
 * @returns what is gone
 */
export function removeLitter(listing: TargetListing, target: TargetFolder): readonly string[] {
  return listing.litter.flatMap(({ path, isFolder }) => {
    const slash = path.lastIndexOf('/')
    const parent = path.slice(0, Math.max(0, slash))
    try {
      const isThere = target.list(parent).some(({ name }) => name === path.slice(slash + 1))
      if (!isThere) return [path]
      if (isFolder && KEPT_LITTER.test(path.slice(slash + 1)) && target.list(path).length > 0) return []
      if (isFolder) removeTree(target, path)
      else target.removeFile(path)
      return [path]
    } catch (error) {
      // What the system will not let go is no reason to fail; that the card is gone is one.
      if (error instanceof AppError && error.code !== 'target/gone') return []
      throw error
    }
  })
}
