import type { ContentFile } from '../model/content.ts'
import type { ImageStamp, Plan } from '../model/plan.ts'
import type { ByteSource } from '../ports/bytes.ts'
import { bootSectors } from './boot-sectors.ts'
import { directoryBytes } from './directory-bytes.ts'
import { dosTimeOf } from './dos-time.ts'
import { fatTable } from './fat-table.ts'
import { clusterOffset, dataStartSector } from './geometry.ts'
import { partitionTable } from './partition-table.ts'

/** A run of the image that the plan fills: tables are made here, files come from elsewhere. */
export type ImageExtent = TableExtent | FileExtent

export interface TableExtent {
  readonly kind: 'table'
  /** What it is, for people: `partition table`, `directory /01-EMBER`. */
  readonly name: string
  readonly offset: number
  readonly bytes: ByteSource
}

export interface FileExtent {
  readonly kind: 'file'
  readonly offset: number
  readonly file: ContentFile
}

/** All extents of an image by offset: FORMAT.md, "Image hash". What lies between them is zero. */
export function imageExtents(plan: Plan, stamp: ImageStamp): ImageExtent[] {
  const files = plan.files
    .filter((file) => file.sizeBytes > 0)
    .map((file): FileExtent => ({
      kind: 'file',
      offset: clusterOffset(plan.geometry, file.firstCluster),
      file,
    }))
  return [...tableExtents(plan, stamp), ...files].sort((a, b) => a.offset - b.offset)
}

/** Bytes that an extent fills. */
export function extentBytes(extent: ImageExtent): number {
  return extent.kind === 'table' ? extent.bytes.sizeBytes : extent.file.sizeBytes
}

function tableExtents(plan: Plan, stamp: ImageStamp): TableExtent[] {
  const { geometry } = plan
  const start = geometry.partitionStartSector * geometry.sectorBytes
  const fatAt = start + geometry.reservedSectors * geometry.sectorBytes
  const fat = fatTable(plan)
  const identity = { label: stamp.label, volumeSerial: stamp.volumeSerial }
  return [
    table('partition table', 0, bytesOf(partitionTable(geometry, stamp.volumeSerial))),
    table('boot sectors', start, bytesOf(bootSectors(geometry, identity, plan.usedClusters))),
    table('first FAT', fatAt, fat),
    table('second FAT', fatAt + geometry.fatSectors * geometry.sectorBytes, fat),
    ...directoryExtents(plan, stamp),
  ]
}

function directoryExtents(plan: Plan, stamp: ImageStamp): TableExtent[] {
  const { geometry } = plan
  const moment = dosTimeOf(stamp.date)
  const rootSlotsBytes = geometry.rootEntryCount * 32
  const dataStart = (geometry.partitionStartSector + dataStartSector(geometry)) * geometry.sectorBytes
  return plan.folders.map((folder) => {
    const isOutside = folder.firstCluster === 0
    const offset = isOutside ? dataStart - rootSlotsBytes : clusterOffset(geometry, folder.firstCluster)
    const sizeBytes = isOutside ? rootSlotsBytes : folder.clusterCount * geometry.clusterBytes
    const made = lazyBytes(sizeBytes, () => directoryBytes(folder, stamp.label, moment, sizeBytes))
    return table(`directory /${folder.path}`, offset, made)
  })
}

function table(name: string, offset: number, bytes: ByteSource): TableExtent {
  return { kind: 'table', name, offset, bytes }
}

function bytesOf(bytes: Uint8Array): ByteSource {
  return lazyBytes(bytes.length, () => bytes)
}

/** Directories are made when they are read, not kept: a card can have very many. */
function lazyBytes(sizeBytes: number, make: () => Uint8Array): ByteSource {
  return {
    sizeBytes,
    readInto(target, at) {
      const piece = make().subarray(at, at + target.length)
      target.set(piece)
      return piece.length
    },
  }
}
