import { closeSync, fstatSync, openSync, readSync } from 'node:fs'
import type { ByteSource } from '../../../app/ports/bytes.ts'

/** A file read at random through a window that runs ahead of the reader. */
export interface ImageFile extends ByteSource {
  close(): void
}

/** Most reads of a card follow each other in steps of a cluster: one system call serves many. */
const WINDOW_BYTES = 1 << 20

/** @throws what `openSync` throws */
export function openImageFile(path: string): ImageFile {
  const handle = openSync(path, 'r')
  const sizeBytes = fstatSync(handle).size
  const window = Buffer.allocUnsafe(WINDOW_BYTES)
  let windowAt = 0
  let windowLength = 0

  function fillWindow(at: number): void {
    windowAt = at
    windowLength = readSync(handle, window, 0, WINDOW_BYTES, at)
  }

  return {
    sizeBytes,
    readInto(target, at) {
      if (at < 0 || at >= sizeBytes) return 0
      if (target.length >= WINDOW_BYTES) return readSync(handle, target, 0, target.length, at)
      const isInside = at >= windowAt && at + target.length <= windowAt + windowLength
      if (!isInside) fillWindow(at)
      const from = at - windowAt
      const length = Math.min(target.length, windowLength - from)
      target.set(window.subarray(from, from + length))
      return length
    },
    close() {
      closeSync(handle)
    },
  }
}
