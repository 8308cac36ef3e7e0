import type { CardGeometry } from '../model/content.ts'
import { putU16, putU32 } from './little-endian.ts'

const HEADS = 255
const SECTORS_A_TRACK = 63
const LAST_CYLINDER = 1023

/** Sector 0: FORMAT.md, "Partition table". */
export function partitionTable(geometry: CardGeometry, volumeSerial: number): Uint8Array {
  const bytes = new Uint8Array(geometry.sectorBytes)
  const first = geometry.partitionStartSector
  putU32(bytes, 440, volumeSerial)
  bytes.set(cylinderHeadSector(first), 447)
  bytes[450] = partitionType(geometry)
  bytes.set(cylinderHeadSector(first + geometry.partitionSectors - 1), 451)
  putU32(bytes, 454, first)
  putU32(bytes, 458, geometry.partitionSectors)
  putU16(bytes, 510, 0xaa55)
  return bytes
}

/** Types by what the partition holds (from memory; the numbers are in common use). */
export function partitionType(geometry: CardGeometry): number {
  if (geometry.fatType === 'fat32') return 0x0c
  return geometry.partitionSectors < 65_536 ? 0x04 : 0x06
}

function cylinderHeadSector(sector: number): Uint8Array {
  const cylinder = Math.floor(sector / (HEADS * SECTORS_A_TRACK))
  if (cylinder > LAST_CYLINDER) return Uint8Array.of(0xfe, 0xff, 0xff)
  const head = Math.floor(sector / SECTORS_A_TRACK) % HEADS
  const number = (sector % SECTORS_A_TRACK) + 1
  return Uint8Array.of(head, number | ((cylinder >> 2) & 0xc0), cylinder & 0xff)
}
