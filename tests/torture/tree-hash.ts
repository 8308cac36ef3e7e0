import { createHash } from 'node:crypto'
import { existsSync, lstatSync, readFileSync, readdirSync } from 'node:fs'
import { join, sep } from 'node:path'

/** Hash of a whole tree, names and bytes. */
export function treeHash(folder: string): string {
  const hash = createHash('sha256')
  for (const path of [...filesBelow(folder)].sort())
    hash.update(`${path}\0${sha256OfFile(join(folder, path))}\0`)
  return hash.digest('hex')
}

/** Everything that is no folder, with `/` between names; nothing where the folder is not there. */
export function filesBelow(folder: string): readonly string[] {
  if (!existsSync(folder)) return []
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((path) => !lstatSync(join(folder, path)).isDirectory())
    .map((path) => path.replaceAll(sep, '/'))
}

/** Null where there is no such file. */
export function sha256OfFile(path: string): string | null {
  return existsSync(path) ? createHash('sha256').update(readFileSync(path)).digest('hex') : null
}
