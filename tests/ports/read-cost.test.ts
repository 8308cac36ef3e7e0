import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { sizeOfCard } from '../../app/cards/card-size.ts'
import type { GeometryBoard } from '../../app/cards/choose-geometry.ts'
import type { ByteSource } from '../../app/ports/bytes.ts'
import { openFatVolume } from '../../main/adapters/files/fat-volume.ts'
import { cardOnDisk, type FileOnCard } from '../support/card-on-disk.ts'
import { boardOf } from '../support/random-cards.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

const sounds = (count: number, name: (index: number) => string): FileOnCard[] =>
  Array.from({ length: count }, (_, index) => ({
    path: `01-ember/${name(index)}`,
    bytes: Uint8Array.of(index & 255),
  }))

/** Sectors that js-fatfs reads to open a file on a volume that it has just mounted. */
async function sectorsRead(image: ByteSource, path: string): Promise<number> {
  const volume = await openFatVolume(image)
  const before = volume.sectorsRead()
  let opened = 0
  volume.readFile(path, () => (opened ||= volume.sectorsRead()))
  volume.close()
  // Of what it read, the last sector is the file's own first: one byte is read through the same window.
  return opened - before - 1
}

describe('what opening a sound costs', () => {
  test.each<{ name: string; board: GeometryBoard; files: FileOnCard[] }>([
    { name: 'few short names', board: boardOf(), files: sounds(10, (index) => `S${index}.WAV`) },
    { name: 'many short names', board: boardOf(), files: sounds(900, (index) => `S${index}.WAV`) },
    {
      name: 'many long names',
      board: boardOf(),
      files: sounds(400, (index) => `a long name ${index} of a sound.wav`),
    },
    {
      name: 'clusters of one sector',
      board: boardOf({ clusterBytes: 512 }),
      files: sounds(300, (index) => `S${index}.WAV`),
    },
    {
      name: 'FAT16',
      board: boardOf({ clusterBytes: 2048, fileSystems: ['fat16'] }),
      files: sounds(300, (index) => `sound ${index}.wav`),
    },
  ])('is counted as an independent reader finds it: $name', async ({ board, files }) => {
    const card = cardOnDisk(temporaryFolder(), files, board)
    const bytes = readFileSync(card.imagePath)
    const image: ByteSource = {
      sizeBytes: bytes.length,
      readInto(target, at) {
        const piece = bytes.subarray(at, at + target.length)
        target.set(piece)
        return piece.length
      },
    }
    const { readCost } = sizeOfCard({ files: card.plan.files, board, imageBytes: null })
    expect(readCost?.folder).toBe('01-ember')
    for (const cost of [readCost?.first, readCost?.last]) {
      expect(await sectorsRead(image, cost?.path ?? '')).toBe(cost?.sectors)
    }
  })

  test('is least for what is played first, wherever its name would put it', () => {
    const files = [...sounds(1, () => 'zz hum.wav'), ...sounds(500, (index) => `clash ${index}.wav`)].map(
      ({ path }) => ({
        path,
        sizeBytes: 1,
        sha256: 'a'.repeat(64),
        origin: { kind: 'sound', editionId: 'e', path } as const,
      }),
    )
    const cost = sizeOfCard({ files, board: boardOf(), imageBytes: null }).readCost
    expect(cost?.first).toMatchObject({ path: '01-ember/zz hum.wav', sectors: 2 })
    // 2 + 500 * 2 + 2 slots fill 63 sectors, that is 7 clusters more than the first; and the root's one.
    expect(cost?.first.sectorsByName).toBe(1 + 63 + 7)
  })
})
