import { readFileSync } from 'node:fs'
import { Ajv2020 } from 'ajv/dist/2020.js'
import { expect } from 'vitest'
import type { DocumentName } from '../../app/contract/documents.ts'

const ajv = new Ajv2020({ strict: true, allowUnionTypes: true, allErrors: true })
const folder = new URL('../../resources/schemas/documents/', import.meta.url)

/** Holds a document as it was printed against its committed schema. */
export function expectDocument(name: DocumentName, printed: string): unknown {
  const document: unknown = JSON.parse(printed)
  const id = `${name}.schema.json`
  const schema = JSON.parse(readFileSync(new URL(id, folder), 'utf8')) as object
  const validate = ajv.getSchema(id) ?? ajv.addSchema(schema, id).getSchema(id)
  if (validate === undefined) throw new Error(`There is no schema ${id}.`)
  const isValid = validate(document)
  expect({ isValid, errors: validate.errors }).toEqual({ isValid: true, errors: null })
  return document
}
