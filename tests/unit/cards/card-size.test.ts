import { describe, expect, test } from 'vitest'
import { sizeAgain, sizeOfCard } from '../../../app/cards/card-size.ts'
import type { CardFile } from '../../../app/model/plan.ts'
import { boardOf } from '../../support/random-cards.ts'

const file = (path: string, sizeBytes: number): CardFile => ({
  path,
  sizeBytes,
  sha256: 'a'.repeat(64),
  origin: { kind: 'sound', editionId: 'edition', path },
})

describe('what a font costs', () => {
  test('is its bytes, the slack of its last clusters, and its directory', () => {
    // By hand: 1 byte and 4097 bytes take 1 + 2 clusters; the folder's own 4 slots take one more.
    const size = sizeOfCard({
      files: [file('EMBER/HUM.WAV', 1), file('EMBER/CLASH.WAV', 4097)],
      board: boardOf(),
      imageBytes: null,
    })
    expect(size.folders.get('EMBER')).toEqual({
      files: 2,
      contentBytes: 4098,
      slackBytes: 3 * 4096 - 4098,
      directoryBytes: 4096,
      usedBytes: 4 * 4096,
    })
    expect(size.usedBytes).toBe(5 * 4096)
  })

  test('is told for each font, also where all of them share a folder', () => {
    const size = sizeOfCard({
      files: [file('FONTS/EMBER/HUM.WAV', 1), file('FONTS/TIDE/HUM.WAV', 5000)],
      board: boardOf(),
      imageBytes: null,
    })
    expect(size.folders.get('FONTS/EMBER')?.usedBytes).toBe(2 * 4096)
    expect(size.folders.get('FONTS/TIDE')?.usedBytes).toBe(3 * 4096)
    expect(size.folders.get('FONTS')?.usedBytes).toBe(6 * 4096)
  })

  test('grows by a cluster where its directory needs a second one', () => {
    // 16 slots fill 512 bytes: two dot entries and 14 names of eight and three characters.
    const folder = (count: number) =>
      sizeOfCard({
        files: Array.from({ length: count }, (_, index) => file(`E/S${index}.WAV`, 0)),
        board: boardOf({ clusterBytes: 512 }),
        imageBytes: null,
      }).folders.get('E')?.directoryBytes
    expect([folder(14), folder(15)]).toEqual([512, 1024])
  })
})

describe('a card that was made', () => {
  test('is told with the figures it was sized with, from its files and its geometry', () => {
    const files = [file('EMBER/HUM.WAV', 1), file('EMBER/CLASH.WAV', 4097), file('CREDITS.TXT', 900)]
    const size = sizeOfCard({ files, board: boardOf(), imageBytes: 300_000_000 })
    expect(sizeAgain(files, size.geometry)).toEqual(size)
  })
})

describe('a card that is too small', () => {
  const files = [file('EMBER/MUSIC.WAV', 300_000_000)]

  test('is told with the bytes that are missing', () => {
    const size = sizeOfCard({ files, board: boardOf(), imageBytes: 290_000_000 })
    expect(size.fits).toBe(false)
    expect(size.freeBytes).toBe(0)
    const roomBytes = size.geometry.clusterCount * 4096
    expect(size.missingBytes).toBe(size.usedBytes - roomBytes)
  })

  test('fits when it has exactly the bytes that were missing more', () => {
    const small = sizeOfCard({ files, board: boardOf(), imageBytes: 290_000_000 })
    const large = sizeOfCard({
      files,
      board: boardOf(),
      imageBytes: small.geometry.imageBytes + small.missingBytes + 8 * 512 * 8,
    })
    expect(large.fits).toBe(true)
  })
})
