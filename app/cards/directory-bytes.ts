import type { PlannedEntry, PlannedFolder } from '../model/plan.ts'
import type { DosTime } from './dos-time.ts'
import { putAscii, putU16, putU32 } from './little-endian.ts'
import { isShortName } from './short-names.ts'

const SLOT_BYTES = 32
const UNITS_A_SLOT = 13
/** Where a long slot keeps its 13 units (FAT 1.03, "Long Directory Entry"). */
const UNIT_OFFSETS = [1, 3, 5, 7, 9, 14, 16, 18, 20, 22, 24, 28, 30]
const LAST_LONG_SLOT = 0x40
const ATTRIBUTE = { file: 0x20, folder: 0x10, label: 0x08, long: 0x0f } as const

/**
 * Slots of one directory, followed by zeros up to `sizeBytes`: label or dot entries, then the names
 * in plan order. FORMAT.md, "Directories".
 */
export function directoryBytes(
  folder: PlannedFolder,
  label: string,
  moment: DosTime,
  sizeBytes: number,
): Uint8Array {
  const bytes = new Uint8Array(sizeBytes)
  let at = 0
  const put = (shortName: string, attribute: number, firstCluster: number, fileBytes: number): void => {
    putShortSlot(bytes, at, shortName, attribute, firstCluster, fileBytes, moment)
    at += SLOT_BYTES
  }
  if (folder.path === '') {
    put(label.padEnd(11), ATTRIBUTE.label, 0, 0)
  } else {
    put('.          ', ATTRIBUTE.folder, folder.firstCluster, 0)
    put('..         ', ATTRIBUTE.folder, folder.parentCluster, 0)
  }
  for (const entry of folder.entries) {
    at = putLongSlots(bytes, at, entry)
    put(entry.shortName, ATTRIBUTE[entry.kind], entry.firstCluster, entry.sizeBytes)
  }
  if (at !== folder.slotCount * SLOT_BYTES) throw new RangeError(`slots of ${folder.path}`)
  return bytes
}

function putShortSlot(
  bytes: Uint8Array,
  at: number,
  shortName: string,
  attribute: number,
  firstCluster: number,
  fileBytes: number,
  moment: DosTime,
): void {
  putAscii(bytes, at, shortName)
  bytes[at + 11] = attribute
  bytes[at + 13] = moment.hundredths
  putU16(bytes, at + 14, moment.time)
  putU16(bytes, at + 16, moment.date)
  putU16(bytes, at + 18, moment.date)
  putU16(bytes, at + 20, firstCluster >>> 16)
  putU16(bytes, at + 22, moment.time)
  putU16(bytes, at + 24, moment.date)
  putU16(bytes, at + 26, firstCluster & 0xffff)
  putU32(bytes, at + 28, fileBytes)
}

/** @returns where the short slot goes */
function putLongSlots(bytes: Uint8Array, at: number, entry: PlannedEntry): number {
  if (isShortName(entry.name, entry.shortName)) return at
  const slots = Math.ceil(entry.name.length / UNITS_A_SLOT)
  const checksum = shortNameChecksum(entry.shortName)
  for (let ordinal = slots; ordinal >= 1; ordinal--, at += SLOT_BYTES) {
    bytes[at] = ordinal === slots ? ordinal | LAST_LONG_SLOT : ordinal
    bytes[at + 11] = ATTRIBUTE.long
    bytes[at + 13] = checksum
    UNIT_OFFSETS.forEach((offset, index) => {
      const unit = (ordinal - 1) * UNITS_A_SLOT + index
      const isEnd = unit === entry.name.length
      putU16(bytes, at + offset, unit < entry.name.length ? entry.name.charCodeAt(unit) : isEnd ? 0 : 0xffff)
    })
  }
  return at
}

/** FAT 1.03, "Short Directory Entry Checksum": rotate right, add. */
export function shortNameChecksum(shortName: string): number {
  let sum = 0
  for (let index = 0; index < 11; index++) {
    sum = (((sum & 1) << 7) + (sum >> 1) + shortName.charCodeAt(index)) & 0xff
  }
  return sum
}
