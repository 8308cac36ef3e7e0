import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cardNames, cardPath } from '../../../app/boards/card-names.ts'
import { readName } from '../../../app/boards/scheme.ts'
import { LAYERS, PARTS, ROLES } from '../../../app/model/role.ts'
import type { SoundPlace } from '../../../app/model/role.ts'
import { boardLikeBench44, shippedBoard } from '../../support/shipped-boards.ts'
import { shippedScheme } from '../../support/shipped-schemes.ts'

/** Names on a board for sounds named in plain words; `old → new`, in play order. */
function translated(boardId: string, paths: readonly string[], companions: readonly string[] = []): string[] {
  const board = shippedBoard(boardId)
  const sounds = paths.map((path) => ({ path, place: readName(shippedScheme('plain-words'), path) }))
  return cardNames(sounds, companions, board, shippedScheme(board.names.scheme)).map(
    (name) => `${name.from} → ${name.to ?? `(${name.noName})`}`,
  )
}

test.each([
  ['a lone sound keeps to no number', 'bench-44', ['hum.wav'], ['hum.wav → hum.wav']],
  [
    'a gap is closed',
    'bench-44',
    ['clash-01.wav', 'clash-04.wav'],
    ['clash-01.wav → clash-01.wav', 'clash-04.wav → clash-02.wav'],
  ],
  [
    'the unnumbered one comes first',
    'bench-44',
    ['clash-02.wav', 'clash.wav'],
    ['clash.wav → clash-01.wav', 'clash-02.wav → clash-02.wav'],
  ],
  [
    'numbers start where the board starts',
    'bench-32',
    ['clash-01.wav', 'clash-02.wav'],
    ['clash-01.wav → CLASH00.WAV', 'clash-02.wav → CLASH01.WAV'],
  ],
  [
    'roles become folders',
    'bench-48',
    ['hum.wav', 'lockup-end.wav'],
    ['hum.wav → hum/take-1.wav', 'lockup-end.wav → lockup-end/take-1.wav'],
  ],
  [
    'a pair stays a pair, whatever else is missing',
    'bench-44',
    ['swing-low-01.wav', 'swing-low-03.wav', 'swing-high-03.wav'],
    [
      'swing-low-01.wav → swing-low-01.wav',
      'swing-low-03.wav → swing-low-02.wav',
      'swing-high-03.wav → swing-high-02.wav',
    ],
  ],
  [
    'sounds are told in play order',
    'bench-44',
    ['music.wav', 'clash-01.wav', 'hum.wav'],
    ['hum.wav → hum.wav', 'clash-01.wav → clash-01.wav', 'music.wav → music.wav'],
  ],
  [
    'a sound without a role gets no name',
    'bench-44',
    ['hum.wav', 'thing.wav'],
    ['hum.wav → hum.wav', 'thing.wav → (no-role)'],
  ],
  [
    'two names that read alike are numbered',
    'bench-44',
    ['clash-1.wav', 'clash-01.wav'],
    ['clash-01.wav → clash-01.wav', 'clash-1.wav → clash-02.wav'],
  ],
])('%s', (_what, board, paths, names) => {
  expect(translated(board, paths)).toEqual(names)
})

describe('companions', () => {
  test('come along in characters that the board takes, last, and never over one another', () => {
    expect(translated('bench-44', ['hum.wav'], ['Read Me!.TXT', 'read me?.txt', 'art/Café.png'])).toEqual([
      'hum.wav → hum.wav',
      'Read Me!.TXT → read-me-.txt',
      'art/Café.png → art/caf-.png',
      'read me?.txt → read-me-2.txt',
    ])
  })

  test('never take the name of a sound', () => {
    expect(translated('bench-44', ['hum.wav'], ['HUM.wav'])).toEqual([
      'hum.wav → hum.wav',
      'HUM.wav → hum2.wav',
    ])
  })

  test('stay off a card whose board wants none', () => {
    expect(translated('bench-32', ['hum.wav'], ['about.txt'])).toEqual([
      'hum.wav → HUM.WAV',
      'about.txt → (stays-off)',
    ])
  })
})

test('sounds of the whole card lie in their own folder', () => {
  const board = shippedBoard('bench-32')
  const sounds = ['hum.wav', 'boot.wav'].map((path) => ({
    path,
    place: readName(shippedScheme('plain-words'), path),
  }))
  const names = cardNames(sounds, [], board, shippedScheme('short-words'))
  expect(names.map((name) => cardPath(board, '00_EMBER', name))).toEqual([
    '00_EMBER/HUM.WAV',
    'SYSTEM/BOOT.WAV',
  ])
})

test('where the board numbers as it likes, numbers stay, and what clashes is counted anew', () => {
  const board = boardLikeBench44('fonts: { numbering: null }\n')
  const named = (paths: readonly string[]) =>
    cardNames(
      paths.map((path) => ({ path, place: readName(shippedScheme('plain-words'), path) })),
      [],
      board,
      shippedScheme('plain-words'),
    ).map((name) => name.to)
  expect(named(['clash-03.wav', 'clash-07.wav'])).toEqual(['clash-03.wav', 'clash-07.wav'])
  expect(named(['clash-07.wav', 'clash-7.wav'])).toEqual(['clash-01.wav', 'clash-02.wav'])
})

const anyPlace: fc.Arbitrary<SoundPlace> = fc
  .tuple(
    fc.constantFrom(...ROLES),
    fc.constantFrom(...PARTS),
    fc.constantFrom(null, ...LAYERS),
    fc.option(fc.nat({ max: 30 })),
  )
  .map(([role, part, layer, number]) =>
    layer === null ? { role, part, layer, number } : { role: 'swing', part: 'body', layer, number },
  )

test.each(['bench-44', 'bench-32', 'bench-48'])(
  'on %s every sound with a role gets a name of its own that reads back as its role',
  (id) => {
    const board = shippedBoard(id)
    const scheme = shippedScheme(board.names.scheme)
    fc.assert(
      fc.property(fc.array(anyPlace, { maxLength: 40 }), (places) => {
        const sounds = places.map((place, index) => ({ path: `${index}.wav`, place }))
        const names = cardNames(sounds, [], board, scheme)
        expect(names.every((name) => name.to !== null)).toBe(true)
        expect(new Set(names.map((name) => `${name.area} ${name.to?.toUpperCase()}`)).size).toBe(
          places.length,
        )
        for (const name of names) {
          const { number: _number, ...place } = readName(scheme, name.to ?? '') ?? { number: null }
          expect(name.place).toMatchObject(place)
        }
        const shuffled = cardNames([...sounds].reverse(), [], board, scheme)
        expect(shuffled).toEqual(names)
      }),
    )
  },
)

test.each(['bench-44', 'bench-32', 'bench-48'])(
  'on %s numbers of one kind run from the start without a gap',
  (id) => {
    const board = shippedBoard(id)
    const scheme = shippedScheme(board.names.scheme)
    const start = board.fonts.numbering?.start ?? 1
    fc.assert(
      fc.property(fc.array(fc.option(fc.nat({ max: 9 })), { minLength: 2, maxLength: 12 }), (numbers) => {
        const sounds = numbers.map((number, index) => ({
          path: `${index}.wav`,
          place: { role: 'clash', part: 'body', layer: null, number } as const,
        }))
        const written = cardNames(sounds, [], board, scheme).map(
          (name) => readName(scheme, name.to ?? '')?.number,
        )
        expect(written).toEqual(numbers.map((_number, index) => start + index))
      }),
    )
  },
)
