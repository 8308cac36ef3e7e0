import { nameKey } from '../../cards/card-name.ts'
import type { Content } from '../../model/content.ts'
import type { TargetListing } from '../../model/target.ts'
import type { FileToWrite } from '../../ports/target-folder.ts'

/**
 * Files of contents on record whose names a target has: only of these can it be that the target holds
 * what a record knows.
 */
export function recordedFilesAt(
  listing: Pick<TargetListing, 'files'>,
  contents: readonly Content[],
): readonly FileToWrite[] {
  const there = new Map(listing.files.map(({ path, sizeBytes }) => [nameKey(path), sizeBytes]))
  const known = new Map<string, FileToWrite>()
  const add = (path: string, sizeBytes: number | null, sha256: string) => {
    const found = there.get(nameKey(path))
    if (found === undefined || (sizeBytes !== null && sizeBytes !== found)) return
    known.set(`${path}\0${sha256}`, { path, sizeBytes: found, sha256 })
  }
  for (const content of contents) {
    for (const { path, sizeBytes, sha256 } of content.files) add(path, sizeBytes, sha256)
    for (const { path, sha256 } of content.formerDocuments ?? []) add(path, null, sha256)
  }
  return [...known.values()]
}
