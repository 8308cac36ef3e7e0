import { nameKey } from '../../cards/card-name.ts'
import type { Content } from '../../model/content.ts'
import type { TargetListing } from '../../model/target.ts'
import type { RunControl } from '../../ports/progress.ts'
import type { FileToWrite } from '../../ports/target-folder.ts'
import type { TargetPorts } from './target-ports.ts'

/** Credits and licence records are far smaller: what is larger is none, and not worth reading. */
const LARGEST_DOCUMENT_BYTES = 4 << 20

/**
 * Documents on a target that no record knows and whose very bytes the workshop keeps: a run wrote them
 * that was broken off before it was read back and recorded, or whose record another one came before.
 * They bear another date than those to be written, and nothing is lost with them.
 * @throws AppError `target/gone`; Cancelled
 */
export async function unrecordedDocumentsAt(
  path: string,
  listing: Pick<TargetListing, 'files'>,
  { files }: Pick<Content, 'files'>,
  { targets, store }: Pick<TargetPorts, 'targets' | 'store'>,
  control: RunControl,
): Promise<readonly FileToWrite[]> {
  const documents = new Set(
    files
      .filter(({ origin }) => origin.kind === 'credits' || origin.kind === 'licences')
      .map((file) => nameKey(file.path)),
  )
  const there = listing.files.filter(
    (file) => documents.has(nameKey(file.path)) && file.sizeBytes <= LARGEST_DOCUMENT_BYTES,
  )
  if (there.length === 0) return []
  const names = there.map((file) => file.path)
  const hashes = await targets.hash(path, names, control)
  const found: FileToWrite[] = []
  for (const { path: name, sizeBytes } of there) {
    const sha256 = hashes[name]
    if (sha256 !== undefined && (await store.has(sha256))) found.push({ path: name, sizeBytes, sha256 })
  }
  return found
}
