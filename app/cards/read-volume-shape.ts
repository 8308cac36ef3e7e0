import type { ByteSource } from '../ports/bytes.ts'
import { findBootSector } from './find-boot-sector.ts'
import { SECTOR_BYTES } from './geometry.ts'
import { u16At, u32At } from './little-endian.ts'

/** Counts of clusters at which the kinds of FAT begin. Source: Microsoft FAT specification 1.03, "FAT Type Determination". */
const FEWEST_FAT16_CLUSTERS = 4085
const FEWEST_FAT32_CLUSTERS = 65_525
/** A larger alignment than any flash asks for is chance. */
const MOST_ALIGNMENT_BYTES = 16 << 20

/** How the volume of a card image is cut. */
export interface VolumeShape {
  readonly fileSystem: 'fat16' | 'fat32'
  readonly clusterBytes: number
  /** Null where the volume starts with the image, without a table. */
  readonly partitionTable: 'mbr' | null
  /** Largest power of two, up to 16 MiB, that both the partition and its data start at a whole of; null without a table. */
  readonly alignmentBytes: number | null
  /** Where the volume ends, from the start of the image. */
  readonly endBytes: number
}

/**
 * How an image is cut, as its boot sector says. Fields: Microsoft FAT specification 1.03, "Boot Sector and BPB".
 *
 * @returns null where there is no FAT16 or FAT32
 */
export function readVolumeShape(image: ByteSource): VolumeShape | null {
  const found = findBootSector(image)
  if (found === null) return null
  const { bytes: boot, startSector } = found
  const sectorsPerCluster = boot[13] ?? 0
  if (sectorsPerCluster === 0 || (sectorsPerCluster & (sectorsPerCluster - 1)) !== 0) return null
  const fatSectors = u16At(boot, 22) || u32At(boot, 36)
  const rootSectors = Math.ceil((u16At(boot, 17) * 32) / SECTOR_BYTES)
  const dataSector = u16At(boot, 14) + (boot[16] ?? 0) * fatSectors + rootSectors
  const sectors = u16At(boot, 19) || u32At(boot, 32)
  const clusters = Math.floor((sectors - dataSector) / sectorsPerCluster)
  if (clusters < FEWEST_FAT16_CLUSTERS) return null
  const isPartitioned = startSector > 0
  return {
    fileSystem: clusters < FEWEST_FAT32_CLUSTERS ? 'fat16' : 'fat32',
    clusterBytes: sectorsPerCluster * SECTOR_BYTES,
    partitionTable: isPartitioned ? 'mbr' : null,
    alignmentBytes: isPartitioned
      ? Math.min(alignmentOf(startSector), alignmentOf(startSector + dataSector))
      : null,
    endBytes: (startSector + sectors) * SECTOR_BYTES,
  }
}

function alignmentOf(sector: number): number {
  let bytes = SECTOR_BYTES
  while (bytes < MOST_ALIGNMENT_BYTES && (sector * SECTOR_BYTES) % (bytes * 2) === 0) bytes *= 2
  return bytes
}
