import { describe, expect, test } from 'vitest'
import { isFound } from '../../../renderer/elements/list-search.ts'

describe('a search in a list', () => {
  const text = 'EX-101 Client A bench-44 Harbour Bell Ember Loom'
  const codes = ['7Q2M4K9XZA']

  test.each([
    ['without words finds all', '  ', true],
    ['finds a part of a word', 'harb', true],
    ['minds no capitals', 'ember LOOM', true],
    ['finds words in any order', 'loom harbour ex-101', true],
    ['wants every word', 'harbour meridian', false],
    ['finds a code by its beginning', '7q2m', true],
    ['finds a code by the whole of it', '7Q2M4K9XZA', true],
    ['finds no code by its middle', '4K9X', false],
    ['takes words and the beginning of a code together', 'bell 7Q', true],
  ])('%s', (_name, search, found) => {
    expect(isFound(search, text, codes)).toBe(found)
  })

  test('lets no word reach from one thing into the next', () => {
    expect(isFound('bellember', text)).toBe(false)
  })
})
