import { expect, test } from 'vitest'
import { AppError } from '../../../app/errors/app-error.ts'
import type { EditionSummary } from '../../../app/model/library.ts'
import { findFont } from '../../../app/usecases/find-font.ts'

const edition = (id: string, name: string, version: string, state: 'present' | 'gone' = 'present') =>
  ({
    id,
    version,
    state,
    font: { id: `font-${id}`, name, creatorId: null, creatorName: null, proposedCreatorName: 'Ombrelune' },
    places: [{ rootId: 'r', path: `/fonts/${id}`, innerPath: null, state }],
    schemeId: null,
    soundCount: 1,
    companionCount: 0,
    sizeBytes: 1,
    firstSeenAt: '2026-01-01T00:00:00Z',
  }) satisfies EditionSummary

const library = [
  edition('a', 'Ember Loom', '1'),
  edition('b', 'Ember Loom', '2'),
  edition('c', 'Harbour Bell', '1.2'),
  edition('d', 'Harbour Bell', '1.1', 'gone'),
  edition('e', 'Éclat', ''),
  edition('f', 'Harbour Bell 1.2', ''),
]

test.each([
  { name: 'an id', words: 'b', want: 'b' },
  { name: 'a name, whatever its case', words: 'harbour bell', want: 'c' },
  { name: 'a name and its version', words: 'Ember Loom 2', want: 'b' },
  { name: 'a name and its version with a v', words: 'ember loom v1', want: 'a' },
  { name: 'a whole name rather than a name and a version', words: 'Harbour Bell 1.2', want: 'f' },
  { name: 'a name typed with combining marks', words: 'E\u0301clat', want: 'e' },
  { name: 'a font that is gone by its version', words: 'Harbour Bell 1.1', want: 'd' },
])('a font is found by $name', ({ words, want }) => {
  expect(findFont(words, library).id).toBe(want)
})

function failure(words: string, among: readonly EditionSummary[]): AppError {
  try {
    findFont(words, among)
  } catch (error) {
    if (error instanceof AppError) return error
  }
  throw new Error('nothing was refused')
}

test('a name that several editions share is refused with each candidate', () => {
  const error = failure('Ember Loom', library)
  expect(error.code).toBe('font/ambiguous')
  expect(error.message).toContain('a (Ember Loom v1 by Ombrelune, /fonts/a)')
  expect(error.message).toContain('b (Ember Loom v2 by Ombrelune, /fonts/b)')
})

test('a misspelt name is refused with the nearest one', () => {
  const error = failure('Harbor Bell', library)
  expect(error.code).toBe('font/unknown')
  expect(error.mend).toBe('Did you mean "Harbour Bell"?')
})

test('an empty library says so', () => {
  expect(failure('Ember', []).mend).toContain('scan a folder')
})

test.each([
  ['/fonts/c', 'Harbour Bell v1.2', 'c'],
  ['fonts/e/', 'Éclat', 'e'],
  ['./fonts/a', 'Ember Loom v1', 'a'],
  ['fonts\\b', 'Ember Loom v2', 'b'],
])('the path %s of a font is answered with what lies there', (words, title, id) => {
  const error = failure(words, library)
  expect(error.code).toBe('font/unknown')
  expect(error.mend).toBe(`What lies there is "${title}": say that name, or its id ${id}.`)
})

test('of fonts that share a name and have no version, only the id is asked for', () => {
  const twins = [edition('a', 'Twin', ''), edition('b', 'Twin', '')]
  expect(failure('twin', twins).mend).toBe('Say the id.')
  expect(failure('Ember Loom', library).mend).toBe('Say the name with its version, or the id.')
})
