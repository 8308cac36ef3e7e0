import { describe, expect, test } from 'vitest'
import { bootSectors } from '../../../app/cards/boot-sectors.ts'
import { dosTimeOf } from '../../../app/cards/dos-time.ts'
import { fatTable } from '../../../app/cards/fat-table.ts'
import { geometryOfImage } from '../../../app/cards/geometry.ts'
import { imageExtents } from '../../../app/cards/image-extents.ts'
import { imageStampOf } from '../../../app/cards/image-stamp.ts'
import { imageHashOf } from '../../../app/cards/image-hash.ts'
import { partitionTable } from '../../../app/cards/partition-table.ts'
import { planCard } from '../../../app/cards/plan-card.ts'
import type { CardGeometry } from '../../../app/model/content.ts'
import type { CardFile } from '../../../app/model/plan.ts'
import { nodeHasher, sha256Of } from '../../support/node-hasher.ts'
import { boardOf } from '../../support/random-cards.ts'

const file = (path: string, sizeBytes: number): CardFile => ({
  path,
  sizeBytes,
  sha256: 'a'.repeat(64),
  origin: { kind: 'sound', editionId: 'edition', path },
})
/** Hexadecimal bytes, field by field. */
const joined = (fields: string) => fields.replaceAll(' ', '')
const hex = (bytes: Uint8Array, from: number, length: number) =>
  Buffer.from(bytes.subarray(from, from + length)).toString('hex')

function cardOf512MiB(): CardGeometry {
  const found = geometryOfImage({ fatType: 'fat32', clusterBytes: 4096, alignmentBytes: 4 << 20 }, 512 << 20)
  if (typeof found === 'string') throw new Error(found)
  return found
}

describe('tables of a 512 MiB card, worked by hand', () => {
  const geometry = cardOf512MiB()

  test('the partition table', () => {
    const bytes = partitionTable(geometry, 0x12345678)
    expect(hex(bytes, 440, 4)).toBe('78563412')
    // First sector 8,192: cylinder 0, head 130, sector 3. Last 1,048,575: 1,048,575 / 16,065 = 65 rest
    // 4,350; 4,350 / 63 = 69 rest 3: cylinder 65, head 69, sector 4.
    expect(hex(bytes, 446, 16)).toBe(joined('00 820300 0c 450441 00200000 00e00f00'))
    expect(hex(bytes, 462, 50)).toBe('00'.repeat(48) + '55aa')
  })

  test('the boot sector, its backup and FSInfo', () => {
    const bytes = bootSectors(geometry, { label: '7Q2M4K9XZA', volumeSerial: 0xcafef00d }, 10)
    expect(bytes.length).toBe(9 * 512)
    expect(hex(bytes, 0, 11)).toBe('eb5890' + Buffer.from('CDWRIGHT').toString('hex'))
    expect(hex(bytes, 11, 25)).toBe(joined('0002 08 1e18 02 0000 0000 f8 0000 3f00 ff00 00200000 00e00f00'))
    expect(hex(bytes, 36, 28)).toBe(joined('f1030000 0000 0000 02000000 0100 0600') + '00'.repeat(12))
    expect(hex(bytes, 64, 7)).toBe(joined('800029 0df0feca'))
    expect(Buffer.from(bytes.subarray(71, 90)).toString('latin1')).toBe('7Q2M4K9XZA FAT32   ')
    expect(hex(bytes, 510, 2)).toBe('55aa')
    expect(hex(bytes, 6 * 512, 3 * 512)).toBe(hex(bytes, 0, 3 * 512))
    // 129,024 - 10 = 129,014 free; clusters 2 to 11 are in use.
    expect(hex(bytes, 512 + 488, 8)).toBe(joined('f6f70100 0c000000'))
  })

  test('the FAT of two files behind the root', () => {
    const plan = planCard({
      files: [file('A', 4097), file('B', 1), file('C', 0)],
      board: boardOf(),
      imageBytes: 512 << 20,
    })
    const bytes = new Uint8Array(fatTable(plan).sizeBytes)
    fatTable(plan).readInto(bytes, 0)
    expect(bytes.length).toBe(512)
    expect(hex(bytes, 0, 28)).toBe(joined('f8ffff0f ffffff0f ffffff0f 04000000 ffffff0f ffffff0f 00000000'))
  })
})

test('a FAT reads the same in pieces as in one', () => {
  const files = Array.from({ length: 300 }, (_, index) => file(`F${index}`, (index % 7) * 3000))
  const plan = planCard({ files, board: boardOf({ clusterBytes: 512 }), imageBytes: null })
  const table = fatTable(plan)
  const whole = new Uint8Array(table.sizeBytes)
  table.readInto(whole, 0)
  const pieces = new Uint8Array(table.sizeBytes)
  for (let at = 0; at < pieces.length; at += 20) table.readInto(pieces.subarray(at, at + 20), at)
  expect(sha256Of(pieces)).toBe(sha256Of(whole))
})

test('a long name and its short one, worked by hand', () => {
  const plan = planCard({ files: [file('hum.wav', 5)], board: boardOf(), imageBytes: null })
  const stamp = imageStampOf('7Q2M4K9XZA', '2026-11-25T09:30:01Z', nodeHasher)
  const root = imageExtents(plan, stamp).find(
    (extent) => extent.kind === 'table' && extent.name === 'directory /',
  )
  if (root?.kind !== 'table') throw new Error('no root')
  const bytes = new Uint8Array(root.bytes.sizeBytes)
  root.bytes.readInto(bytes, 0)
  // 2026-11-25 is 46 << 9 | 11 << 5 | 25 = 0x5d79; 09:30:01 is 9 << 11 | 30 << 5 | 0 = 0x4bc0 and 100/100 s.
  const times = joined('64 c04b 795d 795d')
  expect(hex(bytes, 0, 32)).toBe(
    Buffer.from('7Q2M4K9XZA ').toString('hex') +
      joined('08 00') +
      times +
      joined('0000 c04b 795d 0000 00000000'),
  )
  // HUM     WAV sums to 0x9f by the specification's rotate and add.
  let sum = 0
  for (const byte of Buffer.from('HUM     WAV')) sum = ((sum & 1) * 128 + (sum >> 1) + byte) & 255
  const checksum = sum.toString(16).padStart(2, '0')
  expect(hex(bytes, 32, 32)).toBe(
    joined('41 680075006d002e007700 0f 00') + checksum + joined('61007600 0000 ffffffffffff 0000 ffffffff'),
  )
  expect(hex(bytes, 64, 32)).toBe(
    Buffer.from('HUM     WAV').toString('hex') +
      joined('20 00') +
      times +
      joined('0000 c04b 795d 0300 05000000'),
  )
  expect(bytes.subarray(96).every((byte) => byte === 0)).toBe(true)
})

test('dates outside the years that FAT knows become the nearest it knows', () => {
  expect(dosTimeOf('1970-01-01T00:00:00Z')).toEqual({ date: 0x21, time: 0, hundredths: 0 })
  expect(dosTimeOf('2200-01-01T00:00:00Z').date).toBe((127 << 9) | (12 << 5) | 31)
  expect(() => dosTimeOf('2026-11-25')).toThrow(RangeError)
})

test('the image hash follows every offset, length and hash, and nothing else', () => {
  const extents = [
    { offset: 0, sizeBytes: 512, sha256: '11'.repeat(32) },
    { offset: 2 ** 33, sizeBytes: 7, sha256: '22'.repeat(32) },
  ]
  // By hand: two records of 48 bytes, numbers little-endian.
  const record = Buffer.alloc(96)
  record.writeBigUInt64LE(512n, 8)
  record.fill(0x11, 16, 48)
  record.writeBigUInt64LE(2n ** 33n, 48)
  record.writeBigUInt64LE(7n, 56)
  record.fill(0x22, 64, 96)
  expect(imageHashOf(extents, nodeHasher)).toBe(sha256Of(record))
})

test('the same content and date give the same label, serial and times; another date another serial', () => {
  const one = imageStampOf('7Q2M4K9XZA', '2026-11-25T09:30:01Z', nodeHasher)
  expect(imageStampOf('7Q2M4K9XZA', '2026-11-25T09:30:01Z', nodeHasher)).toEqual(one)
  expect(imageStampOf('7Q2M4K9XZA', '2026-11-26T09:30:01Z', nodeHasher).volumeSerial).not.toBe(
    one.volumeSerial,
  )
})
