import { readFileSync, readdirSync } from 'node:fs'
import { readScheme } from '../../app/boards/read-scheme.ts'
import type { Scheme } from '../../app/boards/scheme.ts'

const folder = new URL('../../resources/schemes/', import.meta.url)

/** The schemes that ship, in the order the loader gives them. */
export const shippedSchemes: readonly Scheme[] = readdirSync(folder)
  .sort()
  .map((name) => readScheme(readFileSync(new URL(name, folder), 'utf8'), name))

export function shippedScheme(id: string): Scheme {
  const scheme = shippedSchemes.find((each) => each.id === id)
  if (!scheme) throw new RangeError(`no shipped scheme "${id}"`)
  return scheme
}
