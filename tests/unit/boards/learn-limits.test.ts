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
      { limit: 'audio.sampleRatesHz', value: [44_100, 48_000], known: 'seen playing' },
      { limit: 'audio.largestBytes' },
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
          'audio.sampleRatesHz: 48000 stayed silent, and nothing else told it apart from what was heard.',
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
    ['from no other sound', [], {}, /No other sound/],
  ])('and differs %s teaches nothing', (_what, heard, facts, why) => {
    const { moves, unclear } = learnLimits(board, heard, [tried('b.wav', facts)])
    expect(moves).toEqual([])
    expect(unclear[0]?.why).toMatch(why)
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
