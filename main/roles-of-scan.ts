import { createHash } from 'node:crypto'
import { join } from 'node:path'
import type { RolesOfScan } from '../app/usecases/scan/role-reading.ts'
import { resourcesFolder } from './adapters/files/resources-folder.ts'
import { readYamlFolder } from './adapters/files/yaml-folder.ts'

/**
 * How a scan reads roles: by the workshop's schemes as their files are now. The schemes themselves are
 * read where names must be; a library that is as the last scan left it needs none.
 */
export async function rolesOfScan(workshopFolder: string, productVersion: string): Promise<RolesOfScan> {
  const folders = [join(resourcesFolder(), 'schemes'), join(workshopFolder, 'schemes')]
  const found = await Promise.all(folders.map((folder) => readYamlFolder(folder)))
  const texts = found.map(({ files }) => files.map(({ text }) => text))
  return {
    key: createHash('sha256')
      .update(JSON.stringify([productVersion, texts]))
      .digest('hex'),
    async open() {
      const [{ roleReadingOf }, { loadSchemes }] = await Promise.all([
        import('./role-reading.ts'),
        import('./adapters/files/scheme-files.ts'),
      ])
      return roleReadingOf((await loadSchemes(workshopFolder)).schemes, productVersion)
    },
  }
}
