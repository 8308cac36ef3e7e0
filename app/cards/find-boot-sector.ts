import type { ByteSource } from '../ports/bytes.ts'
import { SECTOR_BYTES } from './geometry.ts'
import { u16At, u32At } from './little-endian.ts'

export interface BootSector {
  readonly bytes: Uint8Array
  /** Where the volume starts; 0 where the image has no partition table. */
  readonly startSector: number
}

/**
 * The boot sector of an image's first partition, or of the image itself where it has no partition
 * table. Source: Microsoft FAT specification 1.03, "Boot Sector and BPB"; the table's place is from memory.
 *
 * @returns null where there is no boot sector of a FAT with sectors of 512 bytes
 */
export function findBootSector(image: ByteSource): BootSector | null {
  const first = sectorAt(image, 0)
  if (first === null) return null
  const isBootSector = u16At(first, 11) === SECTOR_BYTES && (first[0] === 0xeb || first[0] === 0xe9)
  const startSector = isBootSector ? 0 : u32At(first, 454)
  const bytes = isBootSector ? first : sectorAt(image, startSector)
  return bytes === null || u16At(bytes, 11) !== SECTOR_BYTES ? null : { bytes, startSector }
}

function sectorAt(image: ByteSource, sector: number): Uint8Array | null {
  const bytes = new Uint8Array(SECTOR_BYTES)
  if (image.readInto(bytes, sector * SECTOR_BYTES) < SECTOR_BYTES) return null
  return u16At(bytes, 510) === 0xaa55 ? bytes : null
}
