import type { ByteSource } from '../../../app/ports/bytes.ts'
import { archiveFault } from './archive-faults.ts'
import { archiveKindOf, ARCHIVE_HEAD_BYTES } from './archive-kind.ts'
import { ZipArchive } from './zip-archive.ts'

/**
 * Opens a file that is called a zip archive. One that is another kind of archive is told by name.
 * @throws AppError `archive/…`
 */
export async function openZipFile(source: ByteSource, password: string | null): Promise<ZipArchive> {
  const head = new Uint8Array(Math.min(ARCHIVE_HEAD_BYTES, source.sizeBytes))
  const kind = archiveKindOf(head.subarray(0, source.readInto(head, 0)))
  if (kind !== null && !kind.isZip) {
    throw archiveFault(
      'kind',
      `It is ${kind.words}, which Cardwright does not open.`,
      'Unpack it with the program that made it, and scan the folder.',
    )
  }
  return ZipArchive.open(source, password)
}
