import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  CLUSTER_SIZES,
  clusterOffset,
  dataStartSector,
  geometryOfImage,
  smallestGeometry,
  type VolumeKind,
} from '../../../app/cards/geometry.ts'

const MIB = 1 << 20
const fat32 = (clusterBytes: number, alignmentBytes = 4 * MIB): VolumeKind => ({
  fatType: 'fat32',
  clusterBytes,
  alignmentBytes,
})
const fat16 = (clusterBytes: number): VolumeKind => ({
  fatType: 'fat16',
  clusterBytes,
  alignmentBytes: 4 * MIB,
})

describe('worked by hand from FAT 1.03', () => {
  test('a card of 512 MiB with clusters of 4 KiB', () => {
    // 1,048,576 sectors, 8,192 before the partition. Data 8,192 later leaves 1,032,192 sectors, that is
    // 129,024 clusters; (129,024 + 2) entries of 4 bytes fill 1,009 sectors; 8,192 - 2 * 1,009 = 6,174.
    expect(geometryOfImage(fat32(4096), 512 * MIB)).toEqual({
      fatType: 'fat32',
      sectorBytes: 512,
      clusterBytes: 4096,
      imageBytes: 536_870_912,
      partitionStartSector: 8192,
      partitionSectors: 1_040_384,
      reservedSectors: 6174,
      fatSectors: 1009,
      rootEntryCount: 0,
      clusterCount: 129_024,
    })
  })

  test('a card of 1 GiB with clusters of 32 KiB as FAT16', () => {
    // 2,097,152 sectors, 8,192 before the partition, 8,192 before the data: 2,080,768 of data are 32,512
    // clusters; 32,514 entries of 2 bytes fill 128 sectors (127.007…); the root has 32:
    // 8,192 - 2 * 128 - 32 = 7,904.
    const found = geometryOfImage(fat16(32_768), 1024 * MIB)
    expect(found).toMatchObject({
      clusterCount: 32_512,
      fatSectors: 128,
      reservedSectors: 7904,
      rootEntryCount: 512,
      partitionSectors: 2_088_960,
    })
  })

  test.each([
    { clusterBytes: 512, dataBytes: 33_556_992 },
    { clusterBytes: 4096, dataBytes: 268_455_936 },
    { clusterBytes: 32_768, dataBytes: 2_147_647_488 },
  ])(
    'the smallest FAT32 of $clusterBytes-byte clusters has 65,541 of them',
    ({ clusterBytes, dataBytes }) => {
      expect(65_541 * clusterBytes).toBe(dataBytes)
      const found = smallestGeometry(fat32(clusterBytes), 0)
      expect(found?.clusterCount).toBeGreaterThanOrEqual(65_541)
      expect((found?.clusterCount ?? 0) * clusterBytes - dataBytes).toBeLessThan(MIB)
    },
  )
})

describe('the standard’s limits', () => {
  test('a FAT32 that would have too few clusters is too small', () => {
    expect(geometryOfImage(fat32(4096), 256 * MIB)).toBe('too-small')
  })
  test('a FAT16 ends at 65,508 clusters, with the partition', () => {
    const most = smallestGeometry(fat16(32_768), 65_508)
    expect(most?.clusterCount).toBe(65_508)
    expect(geometryOfImage(fat16(32_768), 4096 * MIB)).toBe('too-large')
    expect(smallestGeometry(fat16(32_768), 65_509)).toBeNull()
  })
  test('a partition table counts 2^32 - 1 sectors and no more', () => {
    expect(geometryOfImage(fat32(32_768), 2 ** 41 - 512)).toMatchObject({ imageBytes: 2 ** 41 - 512 })
    expect(geometryOfImage(fat32(32_768), 2 ** 41)).toBe('too-large')
  })
  test.each([65_536, 3000, 0, 256])('a cluster of %i bytes is a caller’s bug', (clusterBytes) => {
    expect(() => geometryOfImage(fat32(clusterBytes), 2 ** 30)).toThrow(RangeError)
  })
  test.each([1000, 256, 32 * MIB])('an alignment of %i bytes is a caller’s bug', (alignmentBytes) => {
    expect(() => geometryOfImage(fat32(4096, alignmentBytes), 2 ** 30)).toThrow(RangeError)
  })
})

const anyKind = fc.record({
  fatType: fc.constantFrom('fat16' as const, 'fat32' as const),
  clusterBytes: fc.constantFrom(...CLUSTER_SIZES),
  alignmentBytes: fc.constantFrom(512, 4096, MIB, 4 * MIB, 16 * MIB),
})

test('any image size gives a volume that fills its partition, lies inside the image and is aligned', () => {
  fc.assert(
    fc.property(anyKind, fc.integer({ min: 0, max: 2 ** 40 }), (kind, imageBytes) => {
      const found = geometryOfImage(kind, imageBytes)
      if (typeof found === 'string') return
      const start = dataStartSector(found)
      const rest = found.partitionSectors - start - found.clusterCount * (found.clusterBytes / 512)
      expect(rest).toBeGreaterThanOrEqual(0)
      expect(rest).toBeLessThan(found.clusterBytes / 512)
      expect((found.partitionStartSector + found.partitionSectors) * 512).toBeLessThanOrEqual(imageBytes)
      expect(clusterOffset(found, 2) % kind.alignmentBytes).toBe(0)
      expect(found.fatSectors * 512).toBeGreaterThanOrEqual(
        (found.clusterCount + 2) * (kind.fatType === 'fat32' ? 4 : 2),
      )
      expect(found.reservedSectors).toBeGreaterThanOrEqual(kind.fatType === 'fat32' ? 32 : 1)
      expect(found.reservedSectors).toBeLessThanOrEqual(65_535)
    }),
    { numRuns: 2000 },
  )
})

test('the smallest image for some clusters holds them, and one MiB less would not', () => {
  fc.assert(
    fc.property(anyKind, fc.integer({ min: 0, max: 200_000 }), (kind, clusters) => {
      const found = smallestGeometry(kind, clusters)
      if (found === null) return
      expect(found.clusterCount).toBeGreaterThanOrEqual(clusters)
      const smaller = geometryOfImage(kind, found.imageBytes - MIB)
      if (typeof smaller !== 'string') expect(smaller.clusterCount).toBeLessThan(clusters)
    }),
    { numRuns: 2000 },
  )
})
