import { describe, expect, test } from 'vitest'
import type { Board } from '../../../../app/model/board.ts'
import type { TargetPlace, TargetVolume } from '../../../../app/model/target.ts'
import { recordedFilesAt } from '../../../../app/usecases/target/recorded-files.ts'
import { cautionsOf, placeRefusal, volumeRefusal } from '../../../../app/usecases/target/target-refusals.ts'
import type { Content } from '../../../../app/model/content.ts'
import { shippedBoard } from '../../../support/shipped-boards.ts'

const GIB = 2 ** 30
const bench44 = shippedBoard('bench-44')
const bench32 = shippedBoard('bench-32')

const fat32: TargetVolume = {
  fileSystem: 'FAT32',
  isFat: true,
  fatType: 'fat32',
  clusterBytes: 4096,
  sizeBytes: 4 * GIB,
  freeBytes: 4 * GIB,
}
const other = (fileSystem: string): TargetVolume => ({ ...fat32, fileSystem, isFat: false, fatType: null })
const fat = (type: 'fat12' | 'fat16' | null, change: Partial<TargetVolume> = {}): TargetVolume => ({
  ...fat32,
  fileSystem: type === null ? 'FAT' : type.toUpperCase(),
  fatType: type,
  ...change,
})
const place = (volume: TargetVolume, change: Partial<TargetPlace> = {}): TargetPlace => ({
  path: '/media/card',
  kind: 'card',
  volume,
  forbidden: null,
  touches: null,
  ...change,
})
const withLargest = (largestCardBytes: number | null): Board => ({
  ...bench44,
  card: { ...bench44.card, largestCardBytes },
})

describe('a card', () => {
  test.each([
    ['as the board reads it', fat32, bench44, 20, null],
    ['whose kind of FAT the system does not tell', fat(null), bench44, 20, null],
    ['with exFAT, as large cards come', other('exFAT'), bench44, 20, 'target/file-system'],
    ['with NTFS', other('NTFS'), bench44, 20, 'target/file-system'],
    ['with a file system that cannot be told', other(''), bench44, 20, 'target/file-system'],
    ['with another FAT than the board reads', fat32, bench32, 20, 'target/file-system'],
    ['with a FAT12', fat('fat12'), bench32, 20, 'target/file-system'],
    ['larger than the board takes', fat32, withLargest(2 * GIB), 20, 'target/too-large'],
    ['as large as the board takes', fat32, withLargest(4 * GIB), 20, null],
    ['of a size that nobody knows', fat(null, { sizeBytes: null }), withLargest(GIB), 20, null],
    ['whose root has too few slots', fat('fat16', { sizeBytes: GIB }), bench32, 512, 'target/root-full'],
    ['whose root has just enough', fat('fat16', { sizeBytes: GIB }), bench32, 511, null],
  ])('%s', (_name, volume, board, slots, code) => {
    expect(volumeRefusal(place(volume), board, slots)?.code ?? null).toBe(code)
  })

  test('that is refused is told how it is formatted on each system, after what is lost', () => {
    const { what, mend, steps } = volumeRefusal(place(other('exFAT')), bench44, 20)!
    expect(what).toMatch(/exFAT.*FAT32/)
    expect(mend).toMatch(/^Format it as FAT32 with clusters of 4 KiB; formatting erases everything/)
    expect(steps[0]?.step).toMatch(/^Copy off/)
    const { ways } = steps.find(({ step }) => step.startsWith('Format it'))!
    for (const system of ['Windows', 'macOS', 'Linux']) expect(ways.join('\n')).toContain(`${system}:`)
    expect(ways[2]).toContain('mkfs.fat -F 32 -s 8')
    const fat16 = volumeRefusal(place(fat32), bench32, 20)!.steps.flatMap((each) => each.ways)
    expect(fat16[2]).toContain('mkfs.fat -F 16 -s 64')
  })

  test('is written to after what is overwritten was told, and what differs from the board', () => {
    expect(cautionsOf(place(fat32), bench44).join()).toMatch(/removed/)
    expect(cautionsOf(place({ ...fat32, clusterBytes: 32_768 }), bench44).join()).toMatch(/32 KiB.*4 KiB/)
    expect(cautionsOf(place(fat(null, { sizeBytes: null })), bench44).join()).toMatch(
      /does not tell how much room/,
    )
  })
})

describe('a plain folder', () => {
  test('may lie on any file system, and is told to keep no order', () => {
    const folder = place(other('NTFS'), { kind: 'folder' })
    expect(volumeRefusal(folder, bench44, 20)).toBeNull()
    expect(cautionsOf(folder, bench44).join()).toMatch(/does not keep the order/)
  })
})

test('places of the system, of the workshop and of the library are refused whatever they hold', () => {
  expect(placeRefusal(place(fat32))).toBeNull()
  expect(placeRefusal(place(fat32, { forbidden: 'the home folder' }))?.code).toBe('target/system')
  expect(placeRefusal(place(fat32, { touches: '/fonts' }))).toMatchObject({
    code: 'target/library-folder',
    what: expect.stringContaining('/fonts'),
  })
})

test('of contents on record those files are known whose name and size the target has, former documents too', () => {
  const content = {
    files: [
      { path: '01-EMBER/HUM.WAV', sizeBytes: 10, sha256: 'h' },
      { path: '01-EMBER/BOOT.WAV', sizeBytes: 20, sha256: 'b' },
      { path: 'CREDITS.TXT', sizeBytes: 30, sha256: 'c2' },
    ],
    formerDocuments: [{ path: 'CREDITS.TXT', sha256: 'c1' }],
  } as unknown as Content
  const files = [
    { path: '01-ember/hum.wav', sizeBytes: 10 },
    { path: '01-EMBER/BOOT.WAV', sizeBytes: 21 },
    { path: 'CREDITS.TXT', sizeBytes: 31 },
  ]
  expect(recordedFilesAt({ files }, [content])).toEqual([
    { path: '01-EMBER/HUM.WAV', sizeBytes: 10, sha256: 'h' },
    { path: 'CREDITS.TXT', sizeBytes: 31, sha256: 'c1' },
  ])
})
