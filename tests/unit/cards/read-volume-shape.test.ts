import fc from 'fast-check'
import { expect, test } from 'vitest'
import { bootSectors } from '../../../app/cards/boot-sectors.ts'
import { CLUSTER_SIZES, dataStartSector, smallestGeometry } from '../../../app/cards/geometry.ts'
import { partitionTable } from '../../../app/cards/partition-table.ts'
import { readVolumeShape } from '../../../app/cards/read-volume-shape.ts'
import type { CardGeometry } from '../../../app/model/content.ts'
import type { ByteSource } from '../../../app/ports/bytes.ts'

const IDENTITY = { label: 'CARD', volumeSerial: 7 }

/** Sectors that are where they are, and nothing between them. */
function sparse(sectors: ReadonlyMap<number, Uint8Array>, sizeBytes: number): ByteSource {
  return {
    sizeBytes,
    readInto(target, at) {
      target.fill(0)
      target.set(sectors.get(at / 512)?.subarray(0, 512) ?? [])
      return target.length
    },
  }
}

function imageOf(geometry: CardGeometry): ByteSource {
  const boot = bootSectors(geometry, IDENTITY, 1)
  const start = geometry.partitionStartSector
  const sectors = new Map([
    [0, partitionTable(geometry, 7)],
    [start, boot],
  ])
  return sparse(sectors, (start + geometry.partitionSectors) * 512)
}

const kinds = fc.record({
  fatType: fc.constantFrom('fat16', 'fat32'),
  clusterBytes: fc.constantFrom(...CLUSTER_SIZES),
  alignmentBytes: fc.integer({ min: 9, max: 24 }).map((power) => 2 ** power),
})

test('how an image was cut is read back from it, whatever the cut', () => {
  fc.assert(
    fc.property(kinds, fc.nat({ max: 60_000 }), (kind, clusters) => {
      const geometry = smallestGeometry(kind, clusters)
      fc.pre(geometry !== null)
      const shape = readVolumeShape(imageOf(geometry))
      const start = geometry.partitionStartSector
      expect(shape).toMatchObject({
        fileSystem: kind.fatType,
        clusterBytes: kind.clusterBytes,
        partitionTable: 'mbr',
        endBytes: (start + geometry.partitionSectors) * 512,
      })
      const aligned = shape?.alignmentBytes ?? 0
      expect(aligned).toBeGreaterThanOrEqual(kind.alignmentBytes)
      expect((start * 512) % aligned).toBe(0)
      expect(((start + dataStartSector(geometry)) * 512) % aligned).toBe(0)
    }),
  )
})

test('a volume without a partition table shows neither a table nor an alignment', () => {
  const geometry = smallestGeometry({ fatType: 'fat16', clusterBytes: 4096, alignmentBytes: 512 }, 5000)
  const boot = bootSectors(geometry!, IDENTITY, 1)
  expect(readVolumeShape(sparse(new Map([[0, boot]]), 30_000_000))).toEqual({
    fileSystem: 'fat16',
    clusterBytes: 4096,
    partitionTable: null,
    alignmentBytes: null,
    endBytes: geometry!.partitionSectors * 512,
  })
})

test.each([
  ['nothing', () => {}],
  ['a table that points at nothing', (table: Uint8Array) => void table.set([0x55, 0xaa], 510)],
  [
    'a boot sector with clusters of three sectors',
    (boot: Uint8Array) => {
      boot.set(bootSectors(smallestGeometry({ fatType: 'fat16', clusterBytes: 2048, alignmentBytes: 512 }, 5000)!, IDENTITY, 1)) // prettier-ignore
      boot[13] = 3
    },
  ],
  [
    'a boot sector with too few clusters for FAT16',
    (boot: Uint8Array) => {
      boot.set(bootSectors(smallestGeometry({ fatType: 'fat16', clusterBytes: 2048, alignmentBytes: 512 }, 5000)!, IDENTITY, 1)) // prettier-ignore
      boot.set([0x40, 0x0b], 19)
    },
  ],
])('%s is no volume', (_, change) => {
  const sector = new Uint8Array(512)
  change(sector)
  expect(readVolumeShape(sparse(new Map([[0, sector]]), 20_000_000))).toBeNull()
})
