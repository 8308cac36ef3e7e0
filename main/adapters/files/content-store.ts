import { createHash } from 'node:crypto'
import { mkdir, open, rename, stat, unlink, type FileHandle } from 'node:fs/promises'
import { constants } from 'node:fs'
import { dirname, join } from 'node:path'
import { AppError } from '../../../app/errors/app-error.ts'
import type { ContentStore } from '../../../app/ports/content-store.ts'
import { sha256OfFile } from './sha256-of-file.ts'
import { moveSynced, removeLeftovers, writeAtomically } from './atomic-write.ts'

const CHUNK_BYTES = 2 ** 20

/**
 * The store of a workshop: `store/ab/<sha256>`, one file a content, never changed once there. Bytes
 * enter through `store/incoming`, are hashed on the way, and get their name when they are on the disk.
 * Copies that were found damaged lie in `store/damaged`.
 */
export function contentStore(folder: string): ContentStore {
  const incoming = join(folder, 'incoming')
  let isReady: Promise<void> | undefined
  /** Hashed by this process, as they came in or later. */
  const whole = new Set<string>()
  const ready = (): Promise<void> => (isReady ??= prepare(incoming))

  async function pathOf(sha256: string): Promise<string | undefined> {
    const path = placeOf(folder, sha256)
    return (await stat(path).catch(() => null))?.isFile() === true ? path : undefined
  }

  async function keep(sha256: string, where: string, pieces: () => AsyncIterable<Uint8Array>): Promise<void> {
    if ((await pathOf(sha256)) !== undefined) return
    const path = placeOf(folder, sha256)
    try {
      await ready()
      await mkdir(dirname(path), { recursive: true })
      await writeAtomically(
        path,
        async (handle) => {
          const hash = createHash('sha256')
          for await (const piece of pieces()) {
            hash.update(piece)
            await writeAll(handle, piece)
          }
          if (hash.digest('hex') !== sha256) throw changed(where)
        },
        incoming,
      )
      whole.add(sha256)
    } catch (error) {
      isReady = undefined
      throw error instanceof AppError ? error : writingFault(error, folder)
    }
  }

  async function take(path: string, sha256: string): Promise<void> {
    if ((await pathOf(sha256)) !== undefined) return
    const place = placeOf(folder, sha256)
    try {
      await ready()
      await mkdir(dirname(place), { recursive: true })
      await moveSynced(path, place)
      whole.add(sha256)
    } catch (error) {
      isReady = undefined
      if ((error as NodeJS.ErrnoException).code === 'EXDEV') return keep(sha256, path, () => piecesOf(path))
      throw error instanceof AppError ? error : writingFault(error, folder)
    }
  }

  async function putAsideDamaged(sha256: string, again?: 'again'): Promise<string | null> {
    if (again === undefined && whole.has(sha256)) return null
    const path = await pathOf(sha256)
    if (path === undefined) return null
    if (await isWhole(path, sha256)) {
      whole.add(sha256)
      return null
    }
    whole.delete(sha256)
    const aside = join(folder, 'damaged', sha256)
    try {
      await mkdir(dirname(aside), { recursive: true })
      await rename(path, aside)
    } catch (error) {
      // Another process has put it aside at this moment.
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null
      throw writingFault(error, folder)
    }
    return aside
  }

  return {
    has: async (sha256) => (await pathOf(sha256)) !== undefined,
    pathOf,
    keepFile: (path, sha256) => keep(sha256, path, () => piecesOf(path)),
    takeFile: take,
    putAsideDamaged,
    keepBytes: (bytes, sha256) => keep(sha256, sha256, () => once(bytes)),
    async remove(sha256) {
      const path = placeOf(folder, sha256)
      const facts = await stat(path).catch(() => null)
      if (facts?.isFile() !== true) return null
      try {
        await unlink(path)
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null
        throw writingFault(error, folder)
      }
      return facts.size
    },
  }
}

/** What may not be read now is no worse for it; whoever needs it tells that. */
async function isWhole(path: string, sha256: string): Promise<boolean> {
  try {
    return (await sha256OfFile(path)) === sha256
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'EIO'
  }
}

async function prepare(incoming: string): Promise<void> {
  await mkdir(incoming, { recursive: true })
  await removeLeftovers(incoming)
}

/** @throws RangeError where it is no hash: such a name could point anywhere */
function placeOf(folder: string, sha256: string): string {
  if (!/^[0-9a-f]{64}$/.test(sha256)) throw new RangeError(`not a SHA-256: ${sha256}`)
  return join(folder, sha256.slice(0, 2), sha256)
}

async function* once(bytes: Uint8Array): AsyncIterable<Uint8Array> {
  yield bytes
}

async function* piecesOf(path: string): AsyncIterable<Uint8Array> {
  let handle: FileHandle | null = null
  try {
    // Not to wait for ever where a pipe has taken the file's place.
    handle = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0))
    if (!(await handle.stat()).isFile()) throw Object.assign(new Error('no file'), { code: 'ENOENT' })
    const buffer = new Uint8Array(CHUNK_BYTES)
    for (;;) {
      const { bytesRead } = await handle.read(buffer, 0, CHUNK_BYTES)
      if (bytesRead === 0) return
      yield buffer.subarray(0, bytesRead)
    }
  } catch (error) {
    throw unreadable(path, error)
  } finally {
    await handle?.close()
  }
}

async function writeAll(handle: FileHandle, bytes: Uint8Array): Promise<void> {
  for (let at = 0; at < bytes.length;) at += (await handle.write(bytes, at)).bytesWritten
}

function changed(where: string): AppError {
  return new AppError({
    code: 'store/changed',
    what: 'It has changed since it was scanned.',
    where,
    mend: 'Scan its folder again.',
    kind: 'machine',
  })
}

function unreadable(path: string, cause: unknown): AppError {
  const code = (cause as NodeJS.ErrnoException).code ?? 'unknown cause'
  return new AppError(
    {
      code: 'store/unreadable',
      what: code === 'ENOENT' ? 'The file is not there any more.' : `The file could not be read (${code}).`,
      where: path,
      mend: 'Scan its folder again, and mend what the scan tells.',
      kind: 'machine',
    },
    { cause },
  )
}

function writingFault(cause: unknown, folder: string): AppError {
  const code = (cause as NodeJS.ErrnoException).code ?? 'unknown cause'
  const isFull = code === 'ENOSPC' || code === 'EDQUOT' || code === 'EFBIG'
  return new AppError(
    {
      code: isFull ? 'store/disk-full' : 'store/unwritable',
      what: isFull
        ? "The disk has no room for the workshop's copy."
        : `The store could not be written (${code}).`,
      where: folder,
      mend: isFull
        ? 'Free some space and try again; nothing was left half-made.'
        : 'Check the permissions and the disk.',
      kind: 'machine',
    },
    { cause },
  )
}
