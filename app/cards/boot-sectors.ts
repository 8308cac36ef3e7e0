import type { CardGeometry } from '../model/content.ts'
import { putAscii, putU16, putU32 } from './little-endian.ts'

const OEM_NAME = 'CDWRIGHT'
const FIXED_MEDIUM = 0xf8
const BACKUP_SECTOR = 6

export interface BootIdentity {
  readonly label: string
  readonly volumeSerial: number
}

/**
 * The sectors at the start of the partition: on FAT32 boot sector, FSInfo, an empty third one and the
 * copies of all three from sector 6 on (nine sectors); on FAT16 the boot sector alone.
 * FORMAT.md, "Boot sector".
 */
export function bootSectors(
  geometry: CardGeometry,
  identity: BootIdentity,
  usedClusters: number,
): Uint8Array {
  const boot = bootSector(geometry, identity)
  if (geometry.fatType === 'fat16') return boot
  const { sectorBytes } = geometry
  const bytes = new Uint8Array(9 * sectorBytes)
  for (const at of [0, BACKUP_SECTOR]) {
    bytes.set(boot, at * sectorBytes)
    bytes.set(fsInfo(geometry, usedClusters), (at + 1) * sectorBytes)
    putU16(bytes, (at + 2) * sectorBytes + 510, 0xaa55)
  }
  return bytes
}

function bootSector(geometry: CardGeometry, identity: BootIdentity): Uint8Array {
  const bytes = new Uint8Array(geometry.sectorBytes)
  const isFat32 = geometry.fatType === 'fat32'
  const isShort = !isFat32 && geometry.partitionSectors < 65_536
  bytes.set([0xeb, isFat32 ? 0x58 : 0x3c, 0x90])
  putAscii(bytes, 3, OEM_NAME)
  putU16(bytes, 11, geometry.sectorBytes)
  bytes[13] = geometry.clusterBytes / geometry.sectorBytes
  putU16(bytes, 14, geometry.reservedSectors)
  bytes[16] = 2
  putU16(bytes, 17, geometry.rootEntryCount)
  putU16(bytes, 19, isShort ? geometry.partitionSectors : 0)
  bytes[21] = FIXED_MEDIUM
  putU16(bytes, 22, isFat32 ? 0 : geometry.fatSectors)
  putU16(bytes, 24, 63)
  putU16(bytes, 26, 255)
  putU32(bytes, 28, geometry.partitionStartSector)
  putU32(bytes, 32, isShort ? 0 : geometry.partitionSectors)
  if (isFat32) {
    putU32(bytes, 36, geometry.fatSectors)
    putU32(bytes, 44, 2)
    putU16(bytes, 48, 1)
    putU16(bytes, 50, BACKUP_SECTOR)
  }
  const extension = isFat32 ? 64 : 36
  bytes[extension] = 0x80
  bytes[extension + 2] = 0x29
  putU32(bytes, extension + 3, identity.volumeSerial)
  putAscii(bytes, extension + 7, identity.label.padEnd(11))
  putAscii(bytes, extension + 18, isFat32 ? 'FAT32   ' : 'FAT16   ')
  putU16(bytes, 510, 0xaa55)
  return bytes
}

function fsInfo(geometry: CardGeometry, usedClusters: number): Uint8Array {
  const bytes = new Uint8Array(geometry.sectorBytes)
  const freeClusters = geometry.clusterCount - usedClusters
  putU32(bytes, 0, 0x41615252)
  putU32(bytes, 484, 0x61417272)
  putU32(bytes, 488, freeClusters)
  putU32(bytes, 492, freeClusters === 0 ? 0xffffffff : usedClusters + 2)
  putU32(bytes, 508, 0xaa550000)
  return bytes
}
