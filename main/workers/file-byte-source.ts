import { closeSync, constants, fstatSync, openSync, readSync } from 'node:fs'
import type { ByteSource } from '../../app/ports/bytes.ts'

export interface OpenByteSource extends ByteSource {
  close(): void
}

/**
 * A file as a source of bytes, read synchronously: inside a worker that is the fastest way.
 * @throws what Node throws where the file cannot be opened, or is no file any more
 */
export function openFileSource(path: string): OpenByteSource {
  // Not to wait for ever where a pipe has taken the file's place.
  const handle = openSync(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0))
  const stats = fstatSync(handle)
  if (!stats.isFile()) {
    closeSync(handle)
    throw Object.assign(new Error(`no file: ${path}`), { code: stats.isDirectory() ? 'EISDIR' : 'ENOENT' })
  }
  return {
    sizeBytes: stats.size,
    readInto: (target, at) => {
      let done = 0
      while (done < target.length) {
        const read = readSync(handle, target, done, target.length - done, at + done)
        if (read === 0) break
        done += read
      }
      return done
    },
    close: () => closeSync(handle),
  }
}

/** Bytes at hand as a source. */
export function bytesSource(bytes: Uint8Array): ByteSource {
  return {
    sizeBytes: bytes.length,
    readInto: (target, at) => {
      const part = bytes.subarray(at, at + target.length)
      target.set(part)
      return part.length
    },
  }
}
