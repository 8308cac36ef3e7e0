import type { Plan } from '../model/plan.ts'
import type { ByteSource } from '../ports/bytes.ts'
import { fatEntryBytes } from './geometry.ts'

const END = { fat16: 0xffff, fat32: 0x0fffffff } as const
const MEDIUM = { fat16: 0xfff8, fat32: 0x0ffffff8 } as const

/**
 * One FAT of the plan, up to the end of the sector that holds the last used entry; read at whole
 * entries. It is made as it is read: that of a large card would not be small.
 */
export function fatTable(plan: Plan): ByteSource {
  const { geometry } = plan
  const entryBytes = fatEntryBytes(geometry.fatType)
  const sectors = Math.ceil(((plan.usedClusters + 2) * entryBytes) / geometry.sectorBytes)
  const ends = runEnds(plan)
  const endMark = END[geometry.fatType]

  function valueAt(entry: number, run: number): number {
    if (entry === 0) return MEDIUM[geometry.fatType]
    if (entry === 1) return endMark
    const end = ends[run]
    if (end === undefined) return 0
    return entry === end ? endMark : entry + 1
  }

  return {
    sizeBytes: sectors * geometry.sectorBytes,
    readInto(target, at) {
      const length = Math.min(target.length, sectors * geometry.sectorBytes - at)
      const view = new DataView(target.buffer, target.byteOffset, length)
      let entry = at / entryBytes
      let run = firstAtLeast(ends, entry)
      for (let offset = 0; offset + entryBytes <= length; offset += entryBytes, entry++) {
        while (entry > (ends[run] ?? Infinity)) run++
        const value = valueAt(entry, run)
        if (entryBytes === 4) view.setUint32(offset, value, true)
        else view.setUint16(offset, value, true)
      }
      return length
    },
  }
}

/** Last cluster of every run, ascending. Runs follow each other without a gap. */
function runEnds(plan: Plan): Float64Array {
  const ends: number[] = []
  for (const { firstCluster, clusterCount } of [...plan.folders, ...plan.files]) {
    if (clusterCount > 0) ends.push(firstCluster + clusterCount - 1)
  }
  return Float64Array.from(ends).sort()
}

function firstAtLeast(sorted: Float64Array, value: number): number {
  let low = 0
  let high = sorted.length
  while (low < high) {
    const middle = (low + high) >> 1
    if ((sorted[middle] ?? 0) < value) low = middle + 1
    else high = middle
  }
  return low
}
