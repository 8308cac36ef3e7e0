import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { jsonSchemaFiles } from '../../app/contract/json-schemas.ts'
import { resourcesFolder } from '../adapters/files/resources-folder.ts'

// Rewrites the schemas of the command line's JSON documents after a change of the contract.
const folder = join(resourcesFolder(), 'schemas', 'documents')
const SCHEMA_FILE = /\.schema\.json$/
const files = jsonSchemaFiles()
mkdirSync(folder, { recursive: true })
for (const name of readdirSync(folder)) {
  if (SCHEMA_FILE.test(name) && !files.has(name)) rmSync(join(folder, name))
}
for (const [name, text] of files) writeFileSync(join(folder, name), text)
process.stdout.write(`${files.size} schemas in ${folder}\n`)
