import { readFileSync, readdirSync } from 'node:fs'
import { Ajv2020 } from 'ajv/dist/2020.js'
import { describe, expect, test } from 'vitest'
import { jsonSchemaFiles } from '../../../app/contract/json-schemas.ts'

const folder = new URL('../../../resources/schemas/documents/', import.meta.url)

describe('the schemas of the JSON documents', () => {
  test('that are committed are those of the contract, none missing and none left over', () => {
    const committed = readdirSync(folder)
      .filter((name) => name.endsWith('.schema.json'))
      .map((name) => [name, readFileSync(new URL(name, folder), 'utf8')] as const)
    expect(new Map(committed)).toEqual(new Map([...jsonSchemaFiles()].sort()))
  })

  test.each([...jsonSchemaFiles()])('%s is a JSON Schema of draft 2020-12', (_name, text) => {
    const schema = JSON.parse(text) as object
    expect(new Ajv2020({ strict: true }).validateSchema(schema)).toBe(true)
  })
})
