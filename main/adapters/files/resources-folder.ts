import { existsSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

/**
 * The folder of shipped data (`resources/`). It is looked for upwards from this file, because the
 * bundled program lies deeper in the tree than the source does.
 */
export function resourcesFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url))
  while (!existsSync(join(folder, 'resources', 'schemes'))) {
    const parent = dirname(folder)
    if (parent === folder) throw new TypeError('The resources folder is missing from this installation.')
    folder = parent
  }
  return join(folder, 'resources')
}
