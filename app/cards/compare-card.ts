import type { CardReading } from '../model/card-reading.ts'
import type { Content } from '../model/content.ts'
import type { NewHasher } from '../ports/bytes.ts'
import { extentBytes, type ImageExtent } from './image-extents.ts'
import { nameKey } from './card-name.ts'

/** How a card differs from the record of its content; all empty where it does not. */
export interface CardDifferences {
  readonly missing: readonly string[]
  readonly changed: readonly string[]
  readonly added: readonly string[]
  readonly faults: readonly string[]
}

/** A table of the image as it was planned. */
export interface PlannedTable {
  readonly name: string
  readonly offset: number
  readonly sizeBytes: number
  readonly sha256: string
}

/** The tables among the extents, each with the hash its bytes must have. */
export function plannedTables(extents: readonly ImageExtent[], newHasher: NewHasher): PlannedTable[] {
  return extents.flatMap((extent) => {
    if (extent.kind === 'file') return []
    const sizeBytes = extentBytes(extent)
    const hasher = newHasher()
    const piece = new Uint8Array(Math.min(sizeBytes, 1 << 20))
    for (let at = 0; at < sizeBytes; at += piece.length) {
      const wanted = piece.subarray(0, Math.min(piece.length, sizeBytes - at))
      extent.bytes.readInto(wanted, at)
      hasher.update(wanted)
    }
    return [{ name: extent.name, offset: extent.offset, sizeBytes, sha256: hasher.digestHex() }]
  })
}

/**
 * Holds what was read against the record.
 *
 * The tables are only compared where every file is as recorded: whoever adds or changes a file changes
 * them too. An earlier edition of the two documents counts as right.
 *
 * @param tables in the order of `reading.stretchHashes`; none for a folder
 */
export function compareCard(
  content: Content,
  reading: CardReading,
  tables: readonly PlannedTable[],
): CardDifferences {
  const found = new Map(reading.files.map((file) => [nameKey(file.path), file]))
  const missing: string[] = []
  const changed: string[] = []
  let hasFormerDocument = false
  for (const file of content.files) {
    const there = found.get(nameKey(file.path))
    found.delete(nameKey(file.path))
    if (there === undefined) missing.push(file.path)
    else if (there.sha256 !== file.sha256) {
      const isFormer = content.formerDocuments?.some(
        (former) => former.path === file.path && former.sha256 === there.sha256,
      )
      if (isFormer === true) hasFormerDocument = true
      else changed.push(file.path)
    }
  }
  const added = [...found.values()].map((file) => file.path)
  const faults = [...reading.faults]
  const isAsRecorded = missing.length + changed.length + added.length + faults.length === 0
  if (isAsRecorded && !hasFormerDocument) faults.push(...tableFaults(reading, tables))
  return { missing, changed, added, faults }
}

function tableFaults(reading: CardReading, tables: readonly PlannedTable[]): string[] {
  return tables.flatMap((table, index) =>
    reading.stretchHashes[index] === table.sha256
      ? []
      : [`The ${table.name} (${table.sizeBytes} bytes at ${table.offset}) is not as it was written.`],
  )
}
