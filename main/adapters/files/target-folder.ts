import {
  closeSync,
  fstatSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  opendirSync,
  readSync,
  renameSync,
  rmdirSync,
  statfsSync,
  statSync,
  unlinkSync,
  writeSync,
  type Dirent,
} from 'node:fs'
import { join } from 'node:path'
import { AppError } from '../../../app/errors/app-error.ts'
import type { CancelCheck } from '../../../app/ports/bytes.ts'
import type { FileToWrite, TargetEntry, TargetFolder } from '../../../app/ports/target-folder.ts'
import { newSha256 } from './new-sha256.ts'
import { damagedInStore, missingInStore } from './store-faults.ts'
import { targetFault, targetGone } from './target-faults.ts'

const PIECE_BYTES = 1 << 20

/**
 * A folder of this machine as a target. Its volume is remembered: where a card is pulled out, its
 * folder may live on as an empty one on the system's disk, and nothing must be written there.
 *
 * @param root absolute
 * @param sourcePaths SHA-256 to a path of the store
 * @throws AppError `target/gone` where it is not there
 */
export function openTargetFolder(
  root: string,
  sourcePaths: Readonly<Record<string, string>>,
  cancel: CancelCheck,
): TargetFolder {
  const volume = volumeOf(root)
  const piece = Buffer.allocUnsafe(PIECE_BYTES)

  function at<T>(path: string, work: (absolute: string) => T): T {
    if (volumeOf(root) !== volume) throw targetGone(root)
    try {
      return work(join(root, path))
    } catch (error) {
      if (error instanceof AppError) throw error
      throw volumeOf(root) === volume
        ? targetFault(error, path === '' ? root : path)
        : targetGone(root, error)
    }
  }

  function refuseTaken(path: string): void {
    if (lstatSync(path, { throwIfNoEntry: false }) === undefined) return
    throw Object.assign(new Error(path), { code: 'EEXIST' })
  }

  return {
    list: (path) => at(path, (absolute) => entriesOf(absolute)),
    makeFolder: (path) => at(path, (absolute) => void mkdirSync(absolute)),
    writeFile: (file, path, onBytes) =>
      at(path, (absolute) => {
        // Of an empty file no bytes are kept.
        const source = file.sizeBytes === 0 ? null : openSource(file, sourcePaths)
        try {
          copyChecked(source, absolute, file, piece, onBytes, cancel)
        } finally {
          if (source !== null) closeSync(source)
        }
      }),
    hashFile: (path, onBytes) => at(path, (absolute) => hashOf(absolute, piece, onBytes, cancel)),
    rename: (from, to) =>
      at(to, (absolute) => {
        refuseTaken(absolute)
        renameSync(join(root, from), absolute)
      }),
    removeFile: (path) => at(path, (absolute) => unlinkSync(absolute)),
    removeFolder: (path) => at(path, (absolute) => rmdirSync(absolute)),
    sync: (path) => at(path, sync),
    room: () =>
      at('', (absolute) => {
        const { bsize, blocks, bavail } = statfsSync(absolute)
        return blocks === 0 ? null : { freeBytes: bavail * bsize, clusterBytes: bsize }
      }),
  }
}

function volumeOf(root: string): number {
  try {
    return statSync(root).dev
  } catch (error) {
    throw targetGone(root, error)
  }
}

/** macOS tells accents apart from their letters, however a name was written, and finds it either way. */
function asPlanned(name: string): string {
  return process.platform === 'darwin' ? name.normalize('NFC') : name
}

/** `readdir` would sort. */
function entriesOf(folder: string): readonly TargetEntry[] {
  const entries: Dirent[] = []
  const directory = opendirSync(folder)
  try {
    for (let entry = directory.readSync(); entry !== null; entry = directory.readSync()) entries.push(entry)
  } finally {
    directory.closeSync()
  }
  return entries.map((entry): TargetEntry => {
    const name = asPlanned(entry.name)
    if (entry.isDirectory()) return { name, kind: 'folder', sizeBytes: 0 }
    if (!entry.isFile()) return { name, kind: 'other', sizeBytes: 0 }
    return { name, kind: 'file', sizeBytes: lstatSync(join(folder, name)).size }
  })
}

function copyChecked(
  source: number | null,
  path: string,
  file: FileToWrite,
  piece: Buffer,
  onBytes: (bytes: number) => void,
  cancel: CancelCheck,
): void {
  const handle = openSync(path, 'wx')
  try {
    const hasher = newSha256()
    for (let at = 0; ;) {
      cancel()
      const length = source === null ? 0 : readSync(source, piece, 0, PIECE_BYTES, at)
      if (length === 0) break
      const bytes = piece.subarray(0, length)
      hasher.update(bytes)
      for (let done = 0; done < length;) done += writeSync(handle, bytes, done)
      onBytes(length)
      at += length
    }
    if (hasher.digestHex() !== file.sha256) throw damagedInStore(file)
    fsyncSync(handle)
  } finally {
    closeSync(handle)
  }
}

function hashOf(path: string, piece: Buffer, onBytes: (bytes: number) => void, cancel: CancelCheck): string {
  const handle = openSync(path, 'r')
  try {
    const hasher = newSha256()
    for (let at = 0; ;) {
      cancel()
      const length = readSync(handle, piece, 0, PIECE_BYTES, at)
      if (length === 0) return hasher.digestHex()
      hasher.update(piece.subarray(0, length))
      onBytes(length)
      at += length
    }
  } finally {
    closeSync(handle)
  }
}

function openSource(file: FileToWrite, sourcePaths: Readonly<Record<string, string>>): number {
  const path = sourcePaths[file.sha256]
  if (path === undefined) throw missingInStore(file)
  let handle: number
  try {
    handle = openSync(path, 'r')
  } catch (error) {
    throw missingInStore(file, error)
  }
  if (fstatSync(handle).size === file.sizeBytes) return handle
  closeSync(handle)
  throw damagedInStore(file)
}

/** Codes by which systems say that they do not sync folders. */
const NO_FOLDER_SYNC = new Set(['EACCES', 'EBADF', 'EINVAL', 'EISDIR', 'ENOSYS', 'ENOTSUP', 'EPERM'])

function sync(path: string): void {
  const isFolder = statSync(path).isDirectory()
  try {
    const handle = openSync(path, isFolder ? 'r' : 'r+')
    try {
      fsyncSync(handle)
    } finally {
      closeSync(handle)
    }
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? ''
    if (!isFolder || !NO_FOLDER_SYNC.has(code)) throw error
  }
}
