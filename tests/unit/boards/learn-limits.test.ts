import { describe, expect, test } from 'vitest'
import { learnLimits, withMoves } from '../../../app/boards/learn-limits.ts'
import { boardProblems, readBoard } from '../../../app/boards/read-board.ts'
import type { AudioFacts } from '../../../app/model/audio-facts.ts'
import { fontLike } from '../../support/judged-font.ts'
import { boardLikeBench44, sha256Hex, shippedBoard } from '../../support/shipped-boards.ts'

const surroundings = { parentOf: shippedBoard, sha256Hex }

function tried(path: string, facts: Partial<AudioFacts> = {}) {
  const [sound] = fontLike({}, { [path]: { facts } }).sounds
  return { path, inspection: sound!.inspection }
}

describe('a sound that was heard', () => {
  test('widens a limit that it lies outside of', () => {
    const { moves } = learnLimits(boardLikeBench44(''), [tried('a.wav', { sampleRateHz: 48_000 })], [])
    expect(moves).toMatchObject([
      {
        limit: 'audio.sampleRatesHz',
        value: [44_100, 48_000],
        known: 'seen playing',
        because: 'audio.sampleRatesHz: 48000 Hz was heard.',
      },
    ])
  })

  test('fills a limit that nobody knows', () => {
    const board = boardLikeBench44('known: { audio.channels: unknown }\n')
    const { moves } = learnLimits(board, [tried('a.wav', { channels: 2 })], [])
    expect(moves.find((each) => each.limit === 'audio.channels')).toMatchObject({
      value: [2],
      known: 'seen playing',
    })
  })

  test('makes no most of a size that nobody knows: a larger one may play as well', () => {
    const board = boardLikeBench44('audio: { longestSeconds: 2 }\n')
    expect(board.known['audio.largestBytes']).toBe('unknown')
    expect(learnLimits(board, [tried('a.wav', { seconds: 9 })], []).moves).toMatchObject([
      { limit: 'audio.longestSeconds', value: 9, because: 'audio.longestSeconds: 9 s was heard.' },
    ])
  })

  test('moves nothing where it lies inside, and nothing where there is no limit', () => {
    const board = boardLikeBench44('audio: { largestBytes: null, longestSeconds: null }\n')
    expect(learnLimits(board, [tried('a.wav', { seconds: 5000 })], []).moves).toEqual([])
  })
})

describe('a sound that stayed silent', () => {
  const board = boardLikeBench44('audio: { sampleRatesHz: [44100, 48000], largestBytes: null }\n')

  test('narrows the one limit in which it differs from what was heard', () => {
    const { moves, unclear } = learnLimits(
      board,
      [tried('a.wav')],
      [tried('b.wav', { sampleRateHz: 48_000 })],
    )
    expect(moves).toEqual([
      {
        limit: 'audio.sampleRatesHz',
        value: [44_100],
        known: 'seen failing',
        because:
          'audio.sampleRatesHz: 48000 Hz stayed silent, and nothing else told it apart from what plays.',
      },
    ])
    expect(unclear).toEqual([])
  })

  test.each([
    [
      'in several things',
      [tried('a.wav')],
      { sampleRateHz: 48_000, channels: 2 },
      /several things: audio\.sampleRatesHz and audio\.channels/,
    ],
    ['in nothing', [tried('a.wav')], {}, /differs in nothing/],
    ['in nothing from what the board states', [], {}, /differs in nothing/],
  ])('and differs %s teaches nothing', (_what, heard, facts, why) => {
    const { moves, unclear } = learnLimits(board, heard, [tried('b.wav', facts)])
    expect(moves).toEqual([])
    expect(unclear[0]?.why).toMatch(why)
  })
})

describe('a sound that stayed silent, with no other at hand', () => {
  const silent = (facts: Partial<AudioFacts>) => [tried('b.wav', facts)]

  test('is compared with what the board was seen to play, and keeps all of it', () => {
    const board = boardLikeBench44(
      'audio: { sampleRatesHz: [32000, 44100], largestBytes: null }\nknown: { audio.sampleRatesHz: seen playing, audio.channels: seen playing }\n',
    )
    expect(learnLimits(board, [], silent({ channels: 2 })).moves).toMatchObject([
      { limit: 'audio.channels', value: [1], known: 'seen failing' },
    ])
    // One of the rates of the board stays silent after all: the other stays.
    const { moves } = learnLimits(board, [tried('a.wav')], silent({ sampleRateHz: 32_000 }))
    expect(moves).toMatchObject([{ limit: 'audio.sampleRatesHz', value: [44_100], known: 'seen failing' }])
  })

  test('teaches nothing while a limit is there that nobody knows', () => {
    const board = boardLikeBench44('audio: { largestBytes: null }\nknown: { audio.bitDepths: unknown }\n')
    const { moves, unclear } = learnLimits(board, [], silent({ channels: 2 }))
    expect(moves).toEqual([])
    expect(unclear[0]?.why).toBe(
      'It differs in audio.channels, but nobody knows audio.bitDepths of this board: mark sounds that were heard, too.',
    )
    expect(learnLimits(board, [], silent({})).unclear[0]?.why).toMatch(/^It differs in nothing that is known/)
  })

  test('longer than anything that played leaves the limit where that stood', () => {
    const board = boardLikeBench44(
      'audio: { largestBytes: null, longestSeconds: 30 }\nknown: { audio.longestSeconds: seen playing }\n',
    )
    expect(learnLimits(board, [tried('a.wav')], silent({ seconds: 90 })).moves).toMatchObject([
      { limit: 'audio.longestSeconds', value: 30, known: 'seen failing' },
    ])
  })
})

test('moved limits are written into the text, and what its author wrote stays', () => {
  const text =
    '# mine\nboard: { id: mine, title: Mine } # a remark\nextends: bench-44\naudio:\n  channels: [1] # mono\n'
  const { moves } = learnLimits(
    readBoard(text, 'mine', surroundings),
    [tried('a.wav', { channels: 2, bitDepth: 24 })],
    [],
  )
  const moved = withMoves(text, moves)
  expect(moved).toContain('# a remark')
  expect(boardProblems(moved, surroundings)).toEqual([])
  const board = readBoard(moved, 'mine', surroundings)
  expect(board.audio).toMatchObject({ channels: [1, 2], bitDepths: [16, 24], sampleRatesHz: [44_100] })
  expect(board.known['audio.bitDepths']).toBe('seen playing')
})
