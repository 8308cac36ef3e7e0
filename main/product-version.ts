import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { resourcesFolder } from './adapters/files/resources-folder.ts'

/** Cardwright's version, as package.json tells. */
export function productVersion(): string {
  const path = join(dirname(resourcesFolder()), 'package.json')
  return (JSON.parse(readFileSync(path, 'utf8')) as { version: string }).version
}
