import { describe, expect, test } from 'vitest'
import type { Board } from '../../../../app/model/board.ts'
import { boardLikeBench44, shippedBoard } from '../../../support/shipped-boards.ts'
import { fontLike, foundBy, judged } from '../../../support/judged-font.ts'

const upper = shippedBoard('bench-32')
const long = 'n'.repeat(50)

interface Case {
  readonly rule: string
  readonly names: readonly string[]
  readonly board?: Board
  readonly says: readonly string[]
}

const CASES: readonly Case[] = [
  {
    rule: 'name-charset',
    names: ['a b.wav'],
    says: ['a b.wav: "a b.wav" has the character " " (U+0020); the board takes [a-z0-9._-].'],
  },
  {
    rule: 'name-charset',
    names: ['caf\u00e9.wav'],
    says: ['café.wav: "café.wav" has the character "é" (U+00E9); the board takes [a-z0-9._-].'],
  },
  {
    rule: 'name-charset',
    names: ['sub folder/a.wav'],
    says: ['sub folder/a.wav: "sub folder" has the character " " (U+0020); the board takes [a-z0-9._-].'],
  },
  { rule: 'name-charset', names: ['A-B.WAV'], says: [] },
  {
    rule: 'name-charset',
    names: ['a b.wav'],
    board: boardLikeBench44('known: { names.charset: unknown }\n'),
    says: [],
  },
  {
    rule: 'name-case',
    names: ['Odd.wav'],
    says: ['Odd.wav: "Odd.wav" has letters of the other case; the board takes small letters only.'],
  },
  { rule: 'name-case', names: ['ODD.WAV'], board: upper, says: [] },
  { rule: 'name-case', names: ['odd.wav'], says: [] },
  {
    rule: 'name-length',
    names: [`${long}.wav`],
    says: [`${long}.wav: "${long}.wav" has 54 characters; the board takes at most 48.`],
  },
  { rule: 'name-length', names: [`${'n'.repeat(44)}.wav`], says: [] },
  {
    rule: 'path-length',
    names: [`${'d'.repeat(40)}/${'d'.repeat(40)}/${'n'.repeat(40)}.wav`],
    says: [
      `${'d'.repeat(40)}/${'d'.repeat(40)}/${'n'.repeat(40)}.wav: With its folder the path has 142 characters; the board takes at most 120.`,
    ],
  },
  { rule: 'path-length', names: ['d/n.wav'], says: [] },
  {
    rule: 'case-clash',
    names: ['Odd.wav', 'odd.wav'],
    says: ['odd.wav: It differs from "Odd.wav" by capital letters only; a card can hold one of the two.'],
  },
  { rule: 'case-clash', names: ['a/odd.wav', 'odd.wav'], says: [] },
  {
    rule: 'normal-form-clash',
    names: ['caf\u00e9.wav', 'cafe\u0301.wav'],
    says: [
      'cafe\u0301.wav: It looks the same as "caf\u00e9.wav": an accent is written in two different ways.',
    ],
  },
  { rule: 'normal-form-clash', names: ['cafe.wav', 'caf\u00e9.wav'], says: [] },
  {
    rule: 'reserved-name',
    names: ['aux.wav'],
    says: ['aux.wav: "aux.wav" is a word that Windows keeps for a device.'],
  },
  {
    rule: 'reserved-name',
    names: ['NUL.tar.wav'],
    says: ['NUL.tar.wav: "NUL.tar.wav" is a word that Windows keeps for a device.'],
  },
  {
    rule: 'reserved-name',
    names: ['com1/a.wav'],
    says: ['com1/a.wav: "com1" is a word that Windows keeps for a device.'],
  },
  { rule: 'reserved-name', names: ['auxiliary.wav', 'com.wav', 'mycon.wav'], says: [] },
  {
    rule: 'reserved-name',
    names: ['System/a.wav'],
    board: upper,
    says: ['System/a.wav: "System" is a name that the board keeps to itself.'],
  },
  { rule: 'trailing-dot-or-space', names: ['odd.wav.'], says: ['odd.wav.: "odd.wav." ends with a dot.'] },
  {
    rule: 'trailing-dot-or-space',
    names: ['folder /a.wav'],
    says: ['folder /a.wav: "folder " ends with a space.'],
  },
  { rule: 'trailing-dot-or-space', names: ['odd..wav', ' odd.wav'], says: [] },
]

describe.each(CASES)('$rule of $names', ({ rule, names, board, says }) => {
  test(says.length === 0 ? 'says nothing' : 'says what is so', () => {
    const sounds = Object.fromEntries(names.map((name) => [name, { place: null }]))
    expect(foundBy(rule, judged(fontLike({ sounds }), board).findings)).toEqual(says)
  })
})

test('a sound that the plan names anew is told once for the whole font, and not by every rule', () => {
  const font = fontLike({
    sounds: { 'Klang Eins.WAV': { place: { role: 'clash', part: 'body', layer: null, number: 3 } } },
  })
  const rules = judged(font).findings.map((each) => each.rule)
  expect(rules).toEqual(['scheme-name'])
  expect(judged(font, undefined, { inPlace: true }).findings.map((each) => each.rule)).toEqual([
    'name-case',
    'name-charset',
    'scheme-name',
  ])
})

test('names that the plan writes anew are notes in the library, and errors on a card as found', () => {
  const font = fontLike({ sounds: { 'a b.wav': { place: null } } })
  const severity = (inPlace: boolean): string | undefined =>
    judged(font, undefined, { inPlace }).findings.find((each) => each.rule === 'name-charset')?.severity
  expect(severity(false)).toBe('note')
  expect(severity(true)).toBe('error')
})

describe('scheme-name', () => {
  test('says once for the whole font that its names will be others on the card', () => {
    const { findings } = judged(fontLike({ sounds: { 'swing-02.wav': null, 'swing-03.wav': {} } }))
    expect(foundBy('scheme-name', findings)).toEqual([
      '(font): 1 of 7 sounds get another name on the card, such as swing-03.wav → swing-02.wav.',
    ])
  })

  test('says nothing where every name is already the one on the card', () => {
    expect(foundBy('scheme-name', judged(fontLike()).findings)).toEqual([])
  })

  test('on a card as found names each file that the board does not know', () => {
    const font = fontLike({ sounds: { 'klang.wav': { place: null } } })
    expect(foundBy('scheme-name', judged(font, undefined, { inPlace: true }).findings)).toEqual([
      'klang.wav: "klang.wav" is no name of the board\'s scheme plain-words.',
    ])
  })
})

describe('card-path', () => {
  test('says where the board’s own scheme and numbering give a name that is too long', () => {
    const board = boardLikeBench44('names: { longestNameUnits: 12 }\n')
    const { findings } = judged(fontLike({ name: 'Bell' }), board)
    expect(foundBy('card-path', findings)).toEqual([
      'ignite-01.wav: On the card its name would be 01-bell/ignite-01.wav with 13 characters; the board takes at most 12.',
      'retract-01.wav: On the card its name would be 01-bell/retract-01.wav with 14 characters; the board takes at most 12.',
    ])
  })

  test('says nothing where all fit', () => {
    expect(foundBy('card-path', judged(fontLike()).findings)).toEqual([])
  })
})

describe('unspellable', () => {
  test('says where the board’s scheme has no name for a place', () => {
    const place = { role: 'swing', part: 'begin', layer: 'low', number: 1 } as const
    expect(foundBy('unspellable', judged(fontLike({ sounds: { 'x.wav': { place } } })).findings)).toEqual([
      "x.wav: The board's scheme plain-words has no name for swing, begin, low layer, 1.",
    ])
  })

  test('says nothing of sounds whose role is not known', () => {
    expect(
      foundBy('unspellable', judged(fontLike({ sounds: { 'x.wav': { place: null } } })).findings),
    ).toEqual([])
  })
})
