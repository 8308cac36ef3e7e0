import { stat } from 'node:fs/promises'
import { sha256OfFile } from './adapters/files/sha256-of-file.ts'

/** Hashes of files, remembered as long as a file keeps its size and time. */
export interface FileHashes {
  /** SHA-256 of the file in hexadecimal. @throws as Node's file functions, where it cannot be read */
  hashOf(path: string): Promise<string>
}

/** More than are heard in a day on one bench. */
const MOST_REMEMBERED = 1000

export function openFileHashes(): FileHashes {
  const remembered = new Map<string, { readonly state: string; readonly sha256: string }>()
  return {
    async hashOf(path) {
      const { size, mtimeNs, ctimeNs, ino } = await stat(path, { bigint: true })
      const state = [size, mtimeNs, ctimeNs, ino].join(' ')
      const known = remembered.get(path)
      if (known?.state === state) return known.sha256
      const sha256 = await sha256OfFile(path)
      const [oldest] = remembered.keys()
      if (remembered.size >= MOST_REMEMBERED && oldest !== undefined) remembered.delete(oldest)
      remembered.set(path, { state, sha256 })
      return sha256
    },
  }
}
