import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { columnsOf, fitted, inWidth, narrowed } from '../../../main/cli/fit-columns.ts'
import { decimal, table } from '../../../main/cli/table.ts'

test.each([
  { screen: { isTTY: true, columns: 80 }, want: 80 },
  { screen: { isTTY: true }, want: 80 },
  { screen: { isTTY: true, columns: 0 }, want: 80 },
  { screen: { isTTY: false, columns: 80 }, want: Infinity },
  { screen: {}, want: Infinity },
])('what goes to $screen has $want columns', ({ screen, want }) => {
  expect(columnsOf(screen)).toBe(want)
})

describe('a sentence on a terminal', () => {
  test('is broken between words, and goes on below its own words', () => {
    expect(fitted('  error    hum.wav: It clicks each time it starts over.  [loop-seam]', 40)).toBe(
      ['  error    hum.wav: It clicks each time', '           it starts over.  [loop-seam]'].join('\n'),
    )
  })

  test('is left as it is where it goes to a file, and where it is a row of a table', () => {
    const row = 'Ember Loom      bought      Example bench  2026-03-02  EX-ORDER-1  One build'
    expect(fitted(row, 40)).toBe(row)
    const long = 'a long sentence '.repeat(10)
    expect(fitted(long, Infinity)).toBe(long)
  })

  test('keeps all its words, and none is cut', () => {
    fc.assert(
      fc.property(fc.array(fc.stringMatching(/^[a-z]{1,30}$/), { minLength: 1 }), (words) => {
        const lines = fitted(words.join(' '), 40).split('\n')
        expect(lines.flatMap((line) => line.split(' '))).toEqual(words)
        for (const line of lines) expect(line.length).toBeLessThanOrEqual(40)
      }),
    )
  })
})

describe('a table on a terminal', () => {
  const rows = [
    ['boot.wav', 'bit-depth', '16 bit, dithered, plain header', '24 → 16 bit, -20.8 → -18.3 LUFS'],
  ]
  const heads = ['sound', 'what was wrong', 'what was done', 'before → after']

  test.each([60, 80, 100])('fits %i columns, its texts going on in their column', (columns) => {
    const lines = table(heads, rows, columns).split('\n')
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(columns)
    const place = lines[0]?.indexOf('before') ?? 0
    expect(lines.slice(1).every((line) => line.length <= place || line[place - 1] === ' ')).toBe(true)
  })

  test('has one line a row where it goes to a file or another program', () => {
    expect(table(heads, rows, Infinity).split('\n')).toHaveLength(2)
  })

  test('stays as it is where it cannot fit: half a column helps nobody', () => {
    expect(table(heads, rows, 20)).toBe(table(heads, rows, Infinity))
  })

  test('numbers have all their decimals, so that points stand below one another', () => {
    const text = table(['LUFS'], [[decimal(-6, 1)], [decimal(-12.34, 1)], [decimal(null, 1)]], 80)
    expect(text.split('\n')).toEqual([' LUFS', ' -6.0', '-12.3', '    –'])
  })
})

test('a cell is broken behind commas where that is enough', () => {
  expect(inWidth('48000 → 44100 Hz, 16 bit', 20)).toEqual(['48000 → 44100 Hz,', '16 bit'])
  expect(inWidth('{role}.wav  {role}-{n}.wav  {part}.wav', 16)).toEqual([
    '{role}.wav ',
    '{role}-{n}.wav ',
    '{part}.wav',
  ])
  expect(inWidth('no comma in this one', 10)).toEqual(['no comma', 'in this', 'one'])
})

test('the widest columns are narrowed first, none below its longest word', () => {
  expect(narrowed([10, 30, 20], [10, 8, 8], 45)).toEqual([10, 17, 18])
  expect(narrowed([10, 30], [10, 28], 30)).toEqual([10, 30])
})
