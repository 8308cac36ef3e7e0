import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { sizeOfCard } from '../../../app/cards/card-size.ts'
import { waysToFit, type FontOfCard } from '../../../app/cards/ways-to-fit.ts'
import type { CardFile } from '../../../app/model/plan.ts'
import { boardOf } from '../../support/random-cards.ts'

const font = (name: string, count: number, sizeBytes: number): FontOfCard => ({
  name,
  files: Array.from({ length: count }, (_, index): CardFile => {
    const path = `${name}/S${index}.WAV`
    return { path, sizeBytes, sha256: 'a'.repeat(64), origin: { kind: 'sound', editionId: name, path } }
  }),
})
const MIB = 1 << 20
const card = (fonts: readonly FontOfCard[], imageBytes: number, board = boardOf()) => ({
  files: fonts.flatMap(({ files }) => files),
  board,
  imageBytes,
})

describe('what would make a card fit', () => {
  test('of one font, the smallest that is enough, not the largest', () => {
    const fonts = [font('SMALL', 1, 10 * MIB), font('MIDDLE', 1, 40 * MIB), font('LARGE', 1, 230 * MIB)]
    const ways = waysToFit(card(fonts, 280 * MIB), fonts)
    expect(ways.find(({ kind }) => kind === 'leave-out')).toMatchObject({ fonts: ['SMALL'] })
    const tighter = waysToFit(card(fonts, 270 * MIB), fonts)
    expect(tighter.find(({ kind }) => kind === 'leave-out')).toMatchObject({ fonts: ['MIDDLE'] })
  })

  test('several fonts where one is not enough', () => {
    const fonts = ['A', 'B', 'C', 'D'].map((name) => font(name, 1, 120 * MIB))
    const way = waysToFit(card(fonts, 280 * MIB), fonts).find(({ kind }) => kind === 'leave-out')
    expect(way).toMatchObject({ kind: 'leave-out', freesBytes: 2 * (120 * MIB + 4096) })
    if (way?.kind === 'leave-out') expect(way.fonts).toHaveLength(2)
  })

  test('smaller clusters where much is lost behind small files', () => {
    const fonts = [font('MANY', 60_000, 600)]
    const board = boardOf({ clusterBytes: 32_768, fileSystems: ['fat16', 'fat32'] })
    const ways = waysToFit(card(fonts, 1024 * MIB, board), fonts)
    expect(ways[0]).toMatchObject({ kind: 'cluster-size', clusterBytes: 16_384 })
  })

  test('prepared copies where they are enough, and only those that are smaller', () => {
    const fonts = [font('STEREO', 4, 90 * MIB), font('MONO', 1, 1 * MIB)]
    const preparedBytes = new Map([
      ...fonts[0]!.files.map(({ path }) => [path, 45 * MIB] as const),
      ['MONO/S0.WAV', 2 * MIB],
    ])
    const way = (imageBytes: number) =>
      waysToFit(card(fonts, imageBytes), fonts, { preparedBytes, music: [] }).find(
        ({ kind }) => kind === 'prepare',
      )
    expect(way(300 * MIB)).toEqual({ kind: 'prepare', sounds: 4, freesBytes: 180 * MIB - 1 * MIB })
    expect(waysToFit(card([font('X', 9, 90 * MIB)], 300 * MIB), [], { preparedBytes, music: [] })).toSatisfy(
      (ways: readonly { kind: string }[]) => ways.every(({ kind }) => kind !== 'prepare'),
    )
  })

  test('the longest music that fits, to the second', () => {
    const fonts = [font('TUNES', 3, 100 * MIB)]
    const music = fonts[0]!.files.map(({ path }, index) => {
      return { path, seconds: 600 + index, bytesASecond: (100 * MIB) / (600 + index) }
    })
    const input = card(fonts, 290 * MIB)
    const way = waysToFit(input, fonts, { preparedBytes: new Map(), music }).find(
      ({ kind }) => kind === 'shorter-music',
    )
    if (way?.kind !== 'shorter-music') throw new Error('no way')
    const fits = (longestSeconds: number) =>
      sizeOfCard({
        ...input,
        files: input.files.map((file, index) => ({
          ...file,
          sizeBytes: Math.ceil(Math.min(1, longestSeconds / (600 + index)) * file.sizeBytes),
        })),
      }).fits
    expect(way.sounds).toBe(3)
    expect(way.longestSeconds).toBeGreaterThan(500)
    expect(fits(way.longestSeconds)).toBe(true)
    expect(fits(way.longestSeconds + 1)).toBe(false)
    const tiny = waysToFit(card([font('BIG', 3, 200 * MIB), ...fonts], 290 * MIB), fonts, {
      preparedBytes: new Map(),
      music,
    })
    expect(tiny.every(({ kind }) => kind !== 'shorter-music')).toBe(true)
  })

  test('a larger card, whose size is exactly enough', () => {
    const fonts = [font('LARGE', 3, 200 * MIB)]
    const way = waysToFit(card(fonts, 300 * MIB), fonts).find(({ kind }) => kind === 'larger-card')
    if (way?.kind !== 'larger-card') throw new Error('no way')
    expect(sizeOfCard(card(fonts, way.imageBytes)).fits).toBe(true)
    expect(sizeOfCard(card(fonts, way.imageBytes - MIB)).fits).toBe(false)
  })

  test('nothing, where it fits', () => {
    const fonts = [font('A', 1, 1000)]
    expect(waysToFit(card(fonts, 300 * MIB), fonts)).toEqual([])
  })

  test('each way fits by itself, and no fewer fonts would do', () => {
    const fonts = fc.uniqueArray(
      fc.record({ name: fc.constantFrom(...'ABCDEFGH'), size: fc.integer({ min: 1, max: 150 }) }),
      {
        selector: ({ name }) => name,
        minLength: 1,
      },
    )
    fc.assert(
      fc.property(fonts, fc.integer({ min: 275, max: 500 }), (drawn, sizeMib) => {
        const all = drawn.map(({ name, size }) => font(name, 1, size * MIB))
        const input = card(all, sizeMib * MIB)
        for (const way of waysToFit(input, all)) {
          if (way.kind === 'cluster-size') {
            const board = boardOf({ clusterBytes: way.clusterBytes })
            expect(sizeOfCard({ ...input, board }).fits).toBe(true)
          } else if (way.kind === 'larger-card') {
            expect(sizeOfCard({ ...input, imageBytes: way.imageBytes }).fits).toBe(true)
          } else if (way.kind === 'leave-out') {
            const rest = all.filter(({ name }) => !way.fonts.includes(name))
            expect(sizeOfCard(card(rest, input.imageBytes)).fits).toBe(true)
            if (way.fonts.length > 1) {
              for (const back of all.filter(({ name }) => way.fonts.includes(name))) {
                expect(sizeOfCard(card([...rest, back], input.imageBytes)).fits).toBe(false)
              }
            }
          }
        }
      }),
      { numRuns: 300 },
    )
  })
})
