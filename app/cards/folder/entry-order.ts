import type { CardReading } from '../../model/card-reading.ts'
import type { Content } from '../../model/content.ts'
import { nameKey } from '../card-name.ts'

/**
 * How the order of a folder's entries differs from the plan's, as a sentence; null where it does not,
 * and where the file system keeps none. Files that are missing or added do not count.
 */
export function entryOrderFault(content: Pick<Content, 'files'>, reading: CardReading): string | null {
  if (reading.isInEntryOrder !== true) return null
  const planned = new Set(content.files.map(({ path }) => nameKey(path)))
  const found = reading.files.map(({ path }) => path).filter((path) => planned.has(nameKey(path)))
  const there = new Set(found.map(nameKey))
  const wanted = content.files.map(({ path }) => path).filter((path) => there.has(nameKey(path)))
  const at = wanted.findIndex((path, index) => nameKey(path) !== nameKey(found[index] ?? ''))
  if (at === -1) return null
  return `The entries are not in play order: ${found[at] ?? ''} comes where ${wanted[at] ?? ''} should.`
}
