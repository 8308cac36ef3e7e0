import type { ByteSource } from '../ports/bytes.ts'
import { u16At, u32At } from './little-endian.ts'
import { SECTOR_BYTES } from './geometry.ts'

const EXTENDED_BOOT_SIGNATURE = 0x29

/**
 * The label in the boot sector of an image's first partition, without the padding; of the image
 * itself where it has no partition table. Operating systems that rename a card change the label in
 * the root directory, so this one stays what the card was made with.
 *
 * @returns null where there is no boot sector of a FAT
 */
export function readBootLabel(image: ByteSource): string | null {
  const first = sectorAt(image, 0)
  if (first === null) return null
  const isBootSector = u16At(first, 11) === SECTOR_BYTES && (first[0] === 0xeb || first[0] === 0xe9)
  const boot = isBootSector ? first : sectorAt(image, u32At(first, 454))
  if (boot === null || u16At(boot, 11) !== SECTOR_BYTES) return null
  const extension = u16At(boot, 22) === 0 ? 64 : 36
  if (boot[extension + 2] !== EXTENDED_BOOT_SIGNATURE) return null
  return String.fromCharCode(...boot.subarray(extension + 7, extension + 18)).trimEnd()
}

function sectorAt(image: ByteSource, sector: number): Uint8Array | null {
  const bytes = new Uint8Array(SECTOR_BYTES)
  if (image.readInto(bytes, sector * SECTOR_BYTES) < SECTOR_BYTES) return null
  return u16At(bytes, 510) === 0xaa55 ? bytes : null
}
