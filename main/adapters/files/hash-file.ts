import { createHash } from 'node:crypto'
import { closeSync, constants, fstatSync, openSync, readSync } from 'node:fs'
import { sniffKind } from '../../../app/audio/sniff-kind.ts'
import type { FileToHash, HashedFile } from '../../../app/ports/library-files.ts'
import { archiveKindOf, ARCHIVE_HEAD_BYTES } from './archive-kind.ts'

const buffer = new Uint8Array(2 ** 20)

/** Hashes a file in one go; for a worker, since it does not yield. Never throws for the file's sake. */
export function hashFile({ path }: FileToHash): HashedFile {
  let handle: number | null = null
  try {
    // Not to wait for ever where a pipe has taken the file's place since the walk.
    handle = openSync(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0))
    if (!fstatSync(handle).isFile()) return failed('file/missing', 'It is no file any more; scan again.')
    const hash = createHash('sha256')
    let sizeBytes = 0
    let looksLike: HashedFile['looksLike'] = null
    for (;;) {
      const read = readSync(handle, buffer, 0, buffer.length, null)
      if (read === 0) break
      if (sizeBytes === 0) looksLike = looksLikeOf(buffer.subarray(0, Math.min(read, ARCHIVE_HEAD_BYTES)))
      hash.update(buffer.subarray(0, read))
      sizeBytes += read
    }
    return { sha256: hash.digest('hex'), sizeBytes, looksLike, problem: null }
  } catch (error) {
    return unreadable((error as NodeJS.ErrnoException).code ?? 'unknown cause')
  } finally {
    if (handle !== null) closeSync(handle)
  }
}

/** @param head first bytes of a file */
export function looksLikeOf(head: Uint8Array): HashedFile['looksLike'] {
  // A RIFF may hold pictures or films as well.
  if (sniffKind(head) === 'wav' && Buffer.from(head.subarray(8, 12)).toString('latin1') === 'WAVE')
    return 'wav'
  return archiveKindOf(head) === null ? null : 'archive'
}

function unreadable(code: string): HashedFile {
  if (code === 'EACCES' || code === 'EPERM') {
    return failed('file/no-permission', 'This user may not read the file; mend its permissions.')
  }
  if (code === 'ENOENT')
    return failed('file/missing', 'The file went away while the scan looked; scan again.')
  return failed('file/unreadable', `The file could not be read (${code}); copy it afresh, or check the disk.`)
}

function failed(code: string, message: string): HashedFile {
  return { sha256: null, sizeBytes: 0, looksLike: null, problem: { code, message } }
}
