import { z } from 'zod'
import { documents } from './documents.ts'

/** The JSON Schema (draft 2020-12) of each JSON document, as text of a file, by its file's name. */
export function jsonSchemaFiles(): ReadonlyMap<string, string> {
  return new Map(
    Object.entries(documents).map(([name, shape]) => {
      const schema = { title: `cardwright ${name}`, ...z.toJSONSchema(shape, { io: 'output' }) }
      return [`${name}.schema.json`, `${JSON.stringify(schema, null, 2)}\n`]
    }),
  )
}
