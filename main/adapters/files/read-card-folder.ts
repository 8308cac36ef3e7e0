import { closeSync, openSync, opendirSync, readFileSync, readSync, statSync, type Dirent } from 'node:fs'
import { join } from 'node:path'
import type { CardIdentity, CardReading } from '../../../app/model/card-reading.ts'
import type { CancelCheck } from '../../../app/ports/bytes.ts'
import { isLitterFolder, kindOfFile } from '../../../app/usecases/scan/file-kinds.ts'
import { newSha256 } from './new-sha256.ts'

const PIECE_BYTES = 1 << 20
const LARGEST_TEXT_BYTES = 256 << 10

/** Small texts of a mounted card or any folder. */
export function identifyFolder(folder: string): CardIdentity {
  const texts = namesOf(folder)
    .filter((entry) => entry.isFile() && /\.txt$/i.test(entry.name))
    .filter((entry) => statSync(join(folder, entry.name)).size <= LARGEST_TEXT_BYTES)
    .map((entry) => ({ path: entry.name, text: readFileSync(join(folder, entry.name), 'utf8') }))
  return { kind: 'folder', label: null, texts }
}

/**
 * Every file below a folder in the order of its directories; links are told, never followed, and what
 * operating systems leave on every card that they see is listed and not read.
 */
export function readCardFolder(
  folder: string,
  onBytes: (done: number, path: string) => void,
  cancel: CancelCheck,
): CardReading {
  const files: { path: string; sizeBytes: number; sha256: string }[] = []
  const faults: string[] = []
  const litter: string[] = []
  const piece = Buffer.allocUnsafe(PIECE_BYTES)
  let done = 0

  function readFolder(path: string): void {
    for (const entry of namesOf(join(folder, path))) {
      cancel()
      const below = path === '' ? entry.name : `${path}/${entry.name}`
      try {
        if (isLitter(entry)) litter.push(below)
        else if (entry.isDirectory()) readFolder(below)
        else if (entry.isFile()) readFile(below)
        else faults.push(`${below} is neither a file nor a folder.`)
      } catch (error) {
        const code = (error as { code?: unknown }).code
        if (typeof code !== 'string' || code === 'cancelled') throw error
        faults.push(`${below} cannot be read (${code}).`)
      }
    }
  }

  function readFile(path: string): void {
    const handle = openSync(join(folder, path), 'r')
    try {
      const hasher = newSha256()
      let sizeBytes = 0
      for (;;) {
        cancel()
        const length = readSync(handle, piece, 0, PIECE_BYTES, sizeBytes)
        if (length === 0) break
        hasher.update(piece.subarray(0, length))
        sizeBytes += length
        onBytes((done += length), path)
      }
      files.push({ path, sizeBytes, sha256: hasher.digestHex() })
    } finally {
      closeSync(handle)
    }
  }

  readFolder('')
  return { files, faults, stretchHashes: [], litter }
}

function isLitter(entry: Dirent): boolean {
  return entry.isDirectory() ? isLitterFolder(entry.name) : kindOfFile(entry.name) === 'litter'
}

/** Names as the directory has them: `readdir` would sort. */
function namesOf(folder: string): Dirent[] {
  const names: Dirent[] = []
  const directory = opendirSync(folder)
  try {
    for (let entry = directory.readSync(); entry !== null; entry = directory.readSync()) names.push(entry)
  } finally {
    directory.closeSync()
  }
  return names
}
