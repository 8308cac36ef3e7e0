import { describe, expect, test } from 'vitest'
import type { EditionIdentity } from '../../../../app/ports/library-records.ts'
import { matchEditions, type EditionSeen } from '../../../../app/usecases/scan/match-editions.ts'

const seen = (path: string, hashes: string): EditionSeen => ({
  path,
  innerPath: null,
  soundHashes: [...hashes],
})
const known = (editionId: string, path: string, hashes: string): EditionIdentity => ({
  editionId,
  places: [{ rootId: 'r', path, innerPath: null, state: 'present' }],
  soundHashes: [...hashes],
})

describe('an edition is known again', () => {
  test.each([
    { why: 'where it lay', found: [seen('/a', 'xyz')], want: ['E'] },
    { why: 'moved', found: [seen('/b', 'zyx')], want: ['E'] },
    {
      why: 'copied: one edition in two places',
      found: [seen('/b', 'xyz'), seen('/a', 'xyz')],
      want: ['E', 'E'],
    },
    { why: 'changed in its place', found: [seen('/a', 'xyw')], want: ['E'] },
    { why: 'unless moved and changed', found: [seen('/b', 'xyw')], want: [null] },
    {
      why: 'set aside, and another in its place',
      found: [seen('/a', 'new'), seen('/a-old', 'xyz')],
      want: [null, 'E'],
    },
    { why: 'never by having no sounds', found: [seen('/b', '')], want: [null] },
  ])('$why', ({ found, want }) => {
    expect(matchEditions(found, [known('E', '/a', 'xyz'), known('N', '/n', '')])).toEqual(want)
  })

  test('of two with the same sounds, the one that lay there', () => {
    const both = [known('E', '/a', 'xyz'), known('F', '/b', 'xyz')]
    expect(matchEditions([seen('/b', 'xyz'), seen('/a', 'xyz')], both)).toEqual(['F', 'E'])
  })

  test('a sound that is there twice is not one that is there once', () => {
    expect(matchEditions([seen('/b', 'xx')], [known('E', '/a', 'x')])).toEqual([null])
  })
})
