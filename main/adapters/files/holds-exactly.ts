import { lstat, readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { Cancelled } from '../../../app/errors/app-error.ts'
import type { AbortLike } from '../../../app/ports/progress.ts'
import { sha256OfFile } from './sha256-of-file.ts'

/**
 * Whether a folder holds these files with these bytes and nothing else: no other file, no empty folder,
 * no link. What cannot be read is not known to be the same.
 *
 * @param files paths below the folder, `/`-joined, with the SHA-256 that each must have
 * @throws Cancelled
 */
export async function holdsExactly(
  folder: string,
  files: ReadonlyMap<string, string>,
  cancel: AbortLike,
): Promise<boolean> {
  try {
    if (!(await lstat(folder)).isDirectory()) return false
    const found = await filesBelow(folder, '', files)
    if (found === null || found.length !== files.size) return false
    for (const path of found) {
      if (cancel.aborted) throw new Cancelled()
      if ((await sha256OfFile(join(folder, ...path.split('/')))) !== files.get(path)) return false
    }
    return true
  } catch (error) {
    if (error instanceof Cancelled) throw error
    return false
  }
}

/** Files of a folder and those below it; null where anything lies there that is not wanted. */
async function filesBelow(
  folder: string,
  below: string,
  wanted: ReadonlyMap<string, string>,
): Promise<readonly string[] | null> {
  const entries = await readdir(folder, { withFileTypes: true })
  if (entries.length === 0) return null
  const found: string[] = []
  for (const entry of entries) {
    const path = `${below}${entry.name}`
    if (entry.isFile() && wanted.has(path)) found.push(path)
    else {
      const deeper = entry.isDirectory()
        ? await filesBelow(join(folder, entry.name), `${path}/`, wanted)
        : null
      if (deeper === null) return null
      found.push(...deeper)
    }
  }
  return found
}
