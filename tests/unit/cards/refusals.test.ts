import { describe, expect, test } from 'vitest'
import { planCard } from '../../../app/cards/plan-card.ts'
import { sizeOfCard } from '../../../app/cards/card-size.ts'
import type { CardFile } from '../../../app/model/plan.ts'
import { boardOf } from '../../support/random-cards.ts'

const file = (path: string, sizeBytes = 1): CardFile => ({
  path,
  sizeBytes,
  sha256: 'a'.repeat(64),
  origin: { kind: 'sound', editionId: 'edition', path },
})
const many = (count: number, name: (index: number) => string) =>
  Array.from({ length: count }, (_, i) => file(name(i)))

describe('a card that cannot be is refused in words', () => {
  test.each([
    {
      name: 'too small for a FAT32',
      code: 'card/too-small',
      says: /at least 65541 clusters.*at least 27\d{7} bytes/s,
      input: { files: [file('A')], board: boardOf(), imageBytes: 100_000_000 },
    },
    {
      name: 'too small for its content',
      code: 'card/too-full',
      says: /\d+ bytes are missing/,
      input: { files: [file('A', 400_000_000)], board: boardOf(), imageBytes: 300_000_000 },
    },
    {
      name: 'too large for a FAT16',
      code: 'card/too-large',
      says: /at most 65508 clusters/,
      input: { files: [file('A')], board: boardOf({ fileSystems: ['fat16'] }), imageBytes: 16_000_000_000 },
    },
    {
      name: 'larger than the board takes',
      code: 'card/board-limit',
      says: /takes cards up to 1 GiB/,
      input: { files: [file('A')], board: boardOf({ largestCardBytes: 2 ** 30 }), imageBytes: 2 ** 31 },
    },
    {
      name: 'more in the root than a FAT16 holds',
      code: 'card/root-full',
      says: /needs 513 directory slots, and a FAT16 has 512/,
      input: {
        files: many(512, (i) => `F${i}`),
        board: boardOf({ fileSystems: ['fat16'] }),
        imageBytes: null,
      },
    },
    {
      name: 'more in a folder than FAT holds',
      code: 'card/folder-full',
      says: /needs 65537 directory slots/,
      input: { files: many(65_535, (i) => `D/F${i}`), board: boardOf(), imageBytes: null },
    },
    {
      name: 'a file of 4 GiB',
      code: 'card/file-too-large',
      says: /ends at 4294967295/,
      input: { files: [file('A', 2 ** 32)], board: boardOf(), imageBytes: null },
    },
    {
      name: 'clusters of 64 KiB',
      code: 'card/cluster-size',
      says: /65536/,
      input: { files: [file('A')], board: boardOf({ clusterBytes: 65_536 }), imageBytes: null },
    },
  ])('$name', ({ code, says, input }) => {
    expect(() => planCard(input)).toThrow(
      expect.objectContaining({ code, message: expect.stringMatching(says) as string }),
    )
  })

  test('but a file of one byte less than 4 GiB, and 512 slots in the root of a FAT16, are taken', () => {
    expect(sizeOfCard({ files: [file('A', 2 ** 32 - 1)], board: boardOf(), imageBytes: null }).fits).toBe(
      true,
    )
    const full = {
      files: many(511, (i) => `F${i}`),
      board: boardOf({ fileSystems: ['fat16'] }),
      imageBytes: null,
    }
    expect(sizeOfCard(full).fits).toBe(true)
  })

  test('a board that takes both gets a FAT32 where the root is too full for a FAT16', () => {
    const files = many(600, (i) => `F${i}`)
    const board = boardOf({ fileSystems: ['fat16', 'fat32'] })
    expect(planCard({ files, board, imageBytes: null }).geometry.fatType).toBe('fat32')
    expect(planCard({ files: [file('A')], board, imageBytes: null }).geometry.fatType).toBe('fat16')
  })
})
