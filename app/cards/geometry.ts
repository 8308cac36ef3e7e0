import type { CardGeometry } from '../model/content.ts'

export const SECTOR_BYTES = 512
export const FAT16_ROOT_SLOTS = 512
const FAT16_ROOT_SECTORS = (FAT16_ROOT_SLOTS * 32) / SECTOR_BYTES
/** A partition table holds sector numbers in 32 bits. */
const MOST_SECTORS = 2 ** 32 - 1
const MOST_RESERVED_SECTORS = 65_535
const MEBIBYTE = 1_048_576

export type FatType = CardGeometry['fatType']

/**
 * Cluster counts that each kind of FAT is made with: those of FAT 1.03, "FAT Type Determination",
 * less the 16 on either side that it advises to stay away from. Above, 28 bits end.
 */
export const CLUSTER_RANGE: Readonly<Record<FatType, { readonly fewest: number; readonly most: number }>> = {
  fat16: { fewest: 4085 + 16, most: 65_525 - 17 },
  fat32: { fewest: 65_525 + 16, most: 0x0ffffff5 - 1 },
}

/** Cluster sizes that are written: one sector to 32 KiB. 64 KiB is read, never written. */
export const CLUSTER_SIZES: readonly number[] = [512, 1024, 2048, 4096, 8192, 16_384, 32_768]

/** What a volume is cut to, apart from its size. `alignmentBytes` is a power of two, 512 to 16 MiB. */
export interface VolumeKind {
  readonly fatType: FatType
  readonly clusterBytes: number
  readonly alignmentBytes: number
}

/**
 * Geometry of an image of exactly `imageBytes` (rounded down to sectors).
 *
 * @returns 'too-small' or 'too-large' where that kind of FAT cannot have so few or so many clusters.
 * @throws RangeError for a cluster size or an alignment that is not one: a caller's bug.
 */
export function geometryOfImage(
  kind: VolumeKind,
  imageBytes: number,
): CardGeometry | 'too-small' | 'too-large' {
  checkKind(kind)
  const imageSectors = Math.floor(imageBytes / SECTOR_BYTES)
  if (imageSectors > MOST_SECTORS) return 'too-large'
  const startSector = Math.max(1, kind.alignmentBytes / SECTOR_BYTES)
  const sectors = imageSectors - startSector
  const range = CLUSTER_RANGE[kind.fatType]
  const volume = volumeOf(kind, sectors)
  if (volume === null || volume.clusterCount < range.fewest) return 'too-small'
  if (volume.clusterCount <= range.most) return geometry(kind, imageSectors, startSector, sectors, volume)
  const capped = volumeOfClusters(kind, range.most)
  if ((sectors - capped.sectors) * SECTOR_BYTES >= MEBIBYTE) return 'too-large'
  return geometry(kind, imageSectors, startSector, capped.sectors, capped)
}

/**
 * Geometry of the smallest image, in whole MiB, with room for `clusters`.
 * @returns null where that kind of FAT cannot have so many.
 */
export function smallestGeometry(kind: VolumeKind, clusters: number): CardGeometry | null {
  checkKind(kind)
  const range = CLUSTER_RANGE[kind.fatType]
  if (clusters > range.most) return null
  const startSector = Math.max(1, kind.alignmentBytes / SECTOR_BYTES)
  const least = startSector + volumeOfClusters(kind, Math.max(clusters, range.fewest)).sectors
  let imageBytes = Math.ceil((least * SECTOR_BYTES) / MEBIBYTE) * MEBIBYTE
  for (;;) {
    const found = geometryOfImage(kind, imageBytes)
    if (found === 'too-large') return null
    if (found !== 'too-small' && found.clusterCount >= clusters) return found
    imageBytes += MEBIBYTE
  }
}

/** First sector of the data area, from the start of the partition. */
export function dataStartSector(geometry: CardGeometry): number {
  const rootSectors = (geometry.rootEntryCount * 32) / geometry.sectorBytes
  return geometry.reservedSectors + 2 * geometry.fatSectors + rootSectors
}

/** Where a cluster begins, in bytes from the start of the image. */
export function clusterOffset(geometry: CardGeometry, cluster: number): number {
  const sector = geometry.partitionStartSector + dataStartSector(geometry)
  return sector * geometry.sectorBytes + (cluster - 2) * geometry.clusterBytes
}

/** Bytes of one FAT entry. */
export function fatEntryBytes(fatType: FatType): number {
  return fatType === 'fat32' ? 4 : 2
}

interface Volume {
  readonly sectors: number
  readonly dataStart: number
  readonly fatSectors: number
  readonly clusterCount: number
}

/**
 * The largest volume of `sectors`: the first aligned data start whose FATs fit before it. The later
 * the data, the fewer the clusters and the smaller the FATs, so that start is found by halving.
 */
function volumeOf(kind: VolumeKind, sectors: number): Volume | null {
  const step = alignmentStep(kind)
  const volumeFrom = (dataStart: number): Volume | null => {
    const clusterCount = Math.floor((sectors - dataStart) / sectorsPerCluster(kind))
    const fatSectors = fatSectorsFor(kind, clusterCount)
    const isRoom = leastBeforeData(kind, fatSectors) <= dataStart
    return isRoom ? { sectors, dataStart, fatSectors, clusterCount } : null
  }
  let tooEarly = 0
  let late = Math.floor((sectors - 1) / step)
  if (late < 1 || volumeFrom(late * step) === null) return null
  while (late - tooEarly > 1) {
    const middle = Math.floor((tooEarly + late) / 2)
    if (volumeFrom(middle * step) === null) tooEarly = middle
    else late = middle
  }
  return volumeFrom(late * step)
}

/** The smallest volume of so many clusters. */
function volumeOfClusters(kind: VolumeKind, clusterCount: number): Volume {
  const step = alignmentStep(kind)
  const fatSectors = fatSectorsFor(kind, clusterCount)
  const dataStart = Math.ceil(leastBeforeData(kind, fatSectors) / step) * step
  return { sectors: dataStart + clusterCount * sectorsPerCluster(kind), dataStart, fatSectors, clusterCount }
}

function geometry(
  kind: VolumeKind,
  imageSectors: number,
  partitionStartSector: number,
  partitionSectors: number,
  volume: Volume,
): CardGeometry {
  const rootSectors = kind.fatType === 'fat16' ? FAT16_ROOT_SECTORS : 0
  const reservedSectors = volume.dataStart - 2 * volume.fatSectors - rootSectors
  if (reservedSectors > MOST_RESERVED_SECTORS)
    throw new RangeError('alignment leaves too many reserved sectors')
  return {
    fatType: kind.fatType,
    sectorBytes: SECTOR_BYTES,
    clusterBytes: kind.clusterBytes,
    imageBytes: imageSectors * SECTOR_BYTES,
    partitionStartSector,
    partitionSectors,
    reservedSectors,
    fatSectors: volume.fatSectors,
    rootEntryCount: kind.fatType === 'fat16' ? FAT16_ROOT_SLOTS : 0,
    clusterCount: volume.clusterCount,
  }
}

function leastBeforeData(kind: VolumeKind, fatSectors: number): number {
  return 2 * fatSectors + (kind.fatType === 'fat16' ? 1 + FAT16_ROOT_SECTORS : 32)
}

function fatSectorsFor(kind: VolumeKind, clusterCount: number): number {
  return Math.ceil(((clusterCount + 2) * fatEntryBytes(kind.fatType)) / SECTOR_BYTES)
}

/** Data starts on whole clusters too, also where the alignment is finer than a cluster. */
function alignmentStep(kind: VolumeKind): number {
  return Math.max(kind.alignmentBytes, kind.clusterBytes) / SECTOR_BYTES
}

function sectorsPerCluster(kind: VolumeKind): number {
  return kind.clusterBytes / SECTOR_BYTES
}

function checkKind(kind: VolumeKind): void {
  if (!CLUSTER_SIZES.includes(kind.clusterBytes))
    throw new RangeError(`cluster of ${kind.clusterBytes} bytes`)
  const { alignmentBytes } = kind
  const isPowerOfTwo = Number.isInteger(Math.log2(alignmentBytes))
  if (!isPowerOfTwo || alignmentBytes < SECTOR_BYTES || alignmentBytes > 16 * MEBIBYTE) {
    throw new RangeError(`alignment of ${alignmentBytes} bytes`)
  }
}
