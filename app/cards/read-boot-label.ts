import type { ByteSource } from '../ports/bytes.ts'
import { findBootSector } from './find-boot-sector.ts'
import { u16At } from './little-endian.ts'

const EXTENDED_BOOT_SIGNATURE = 0x29

/**
 * The label in the boot sector of an image's first partition, without the padding; of the image
 * itself where it has no partition table. Operating systems that rename a card change the label in
 * the root directory, so this one stays what the card was made with.
 *
 * @returns null where there is no boot sector of a FAT
 */
export function readBootLabel(image: ByteSource): string | null {
  const boot = findBootSector(image)?.bytes
  if (boot === undefined) return null
  const extension = u16At(boot, 22) === 0 ? 64 : 36
  if (boot[extension + 2] !== EXTENDED_BOOT_SIGNATURE) return null
  return String.fromCharCode(...boot.subarray(extension + 7, extension + 18)).trimEnd()
}
