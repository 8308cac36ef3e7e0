import { randomUUID } from 'node:crypto'
import { open, rename, rm, type FileHandle } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { removeLeftBehind } from './left-behind.ts'
import { MARK_PATTERN, OWN_MARK } from './process-mark.ts'

const SUFFIX = '.part'
const OWNER = new RegExp(String.raw`^\.${MARK_PATTERN}\.`)

/**
 * Writes a file so that its name only ever stands for all of its bytes: into a temporary file beside
 * it, synced, then renamed, its folder synced too. What `write` throws leaves nothing behind.
 *
 * @param temporaryFolder where the temporary file lies; on the same file system as `path`
 * @throws what `write` or Node throws
 */
export async function writeAtomically(
  path: string,
  write: (handle: FileHandle) => Promise<void>,
  temporaryFolder: string = dirname(path),
): Promise<void> {
  const temporary = join(
    temporaryFolder,
    `.${OWN_MARK}.${randomUUID()}.${basename(path).slice(0, 80)}${SUFFIX}`,
  )
  try {
    const handle = await open(temporary, 'wx')
    try {
      await write(handle)
      await handle.sync()
    } finally {
      await handle.close()
    }
    await rename(temporary, path)
  } catch (error) {
    // What went wrong first is what is told; a leftover is removed later.
    await rm(temporary, { force: true }).catch(() => undefined)
    throw error
  }
  await syncFolder(dirname(path))
}

/** Gives a whole file its name: its bytes are on the disk before, its name after. @throws what Node throws */
export async function moveSynced(from: string, to: string): Promise<void> {
  const handle = await open(from, 'r+')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
  await rename(from, to)
  await syncFolder(dirname(to))
}

/** Removes temporary files of processes that are gone. */
export function removeLeftovers(folder: string): Promise<void> {
  return removeLeftBehind(folder, (name) =>
    name.endsWith(SUFFIX) ? Number(OWNER.exec(name)?.[1] ?? NaN) : NaN,
  )
}

/** So that a name survives a power cut too; not every system lets a folder be opened. */
async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r').catch(() => null)
  try {
    await handle?.sync()
  } catch {
    // The bytes are safe; only the name may be lost to a power cut.
  } finally {
    await handle?.close()
  }
}
