import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { findEditions } from '../../../../app/usecases/scan/find-editions.ts'
import { treeOfPaths } from '../../../../app/usecases/scan/tree-of-paths.ts'
import { shippedRoles } from '../../../support/role-reading.ts'

/** Editions of a tree given by its file paths: edition path to what is in it. */
function editionsOf(...paths: string[]) {
  const found = findEditions(treeOfPaths(paths).folders, shippedRoles)
  return Object.fromEntries(found.map((edition) => [edition.path, edition.sounds.map(({ path }) => path)]))
}

describe('editions in a tree', () => {
  test('a folder with sounds is one, wherever it lies', () => {
    expect(editionsOf('a/b/c/hum.wav', 'a/d/x.wav', 'a/readme.txt')).toEqual({
      'a/b/c': ['hum.wav'],
      'a/d': ['x.wav'],
    })
  })

  test('it takes its sub-folders in', () => {
    expect(editionsOf('Ember/hum.wav', 'Ember/extra/one.wav', 'Ember/extra/deep/two.wav')).toEqual({
      Ember: ['extra/deep/two.wav', 'extra/one.wav', 'hum.wav'],
    })
  })

  test('a sub-folder that spells a font by itself is one of its own', () => {
    expect(editionsOf('Ember/hum.wav', 'Ember/alt/hum.wav', 'Ember/alt/clash-01.wav')).toEqual({
      Ember: ['hum.wav'],
      'Ember/alt': ['clash-01.wav', 'hum.wav'],
    })
  })

  test('so is one that lies deeper, below a folder without sounds', () => {
    expect(Object.keys(editionsOf('Ember/hum.wav', 'Ember/variants/dark/hum.wav'))).toEqual([
      'Ember',
      'Ember/variants/dark',
    ])
  })

  test('more sounds of one role in a sub-folder are no font', () => {
    expect(
      Object.keys(editionsOf('Ember/hum.wav', 'Ember/bonus/clash-05.wav', 'Ember/bonus/clash-06.wav')),
    ).toEqual(['Ember'])
  })

  test('a folder of role folders is one edition', () => {
    expect(editionsOf('Ember/hum/take-1.wav', 'Ember/clash/take-1.wav', 'Ember/clash/take-2.wav')).toEqual({
      Ember: ['clash/take-1.wav', 'clash/take-2.wav', 'hum/take-1.wav'],
    })
  })

  test('a role folder beside the sounds of a font belongs to it, whatever it spells', () => {
    expect(
      Object.keys(editionsOf('Ember/hum.wav', 'Ember/swing/hum.wav', 'Ember/swing/clash-01.wav')),
    ).toEqual(['Ember'])
  })

  test('one role name among other folders makes no edition of them', () => {
    expect(
      Object.keys(editionsOf('fonts/music/a.wav', 'fonts/Ember/hum.wav', 'fonts/Frost/hum.wav')),
    ).toEqual(['fonts/Ember', 'fonts/Frost', 'fonts/music'])
  })

  test('the top itself can be one', () => expect(editionsOf('hum.wav')).toEqual({ '': ['hum.wav'] }))

  test('none is where no sounds are', () => expect(editionsOf('readme.txt', 'a/b.pdf')).toEqual({}))

  test('names that objects have of their own are names like others', () => {
    const found = findEditions(
      treeOfPaths(['constructor/hum.wav', '__proto__/hum.wav']).folders,
      shippedRoles,
    )
    expect(found.map(({ path }) => path)).toEqual(['__proto__', 'constructor'])
  })
})

test('companions and litter of its folders belong to it; archives do not', () => {
  const paths = [
    'Ember/hum.wav',
    'Ember/._hum.wav',
    'Ember/docs/read.txt',
    'Ember/__MACOSX/x/y.wav',
    'Ember/old.zip',
  ]
  const [edition] = findEditions(treeOfPaths(paths).folders, shippedRoles)
  expect(edition?.companions.map(({ path }) => path)).toEqual(['docs/read.txt'])
  expect(edition?.litter).toEqual(['._hum.wav', '__MACOSX/'])
})

const part = fc.constantFrom('hum', 'clash', 'swing', 'Ember', 'alt', 'v2', 'extra', 'music')
const file = fc.constantFrom(
  'hum.wav',
  'clash-01.wav',
  'x.wav',
  'swing-01.wav',
  'a.txt',
  'b.zip',
  '.DS_Store',
)
const path = fc
  .tuple(fc.array(part, { maxLength: 4 }), file)
  .map(([parts, name]) => [...parts, name].join('/'))

test('every sound belongs to just one edition, and the order of the listing changes nothing', () => {
  fc.assert(
    fc.property(fc.uniqueArray(path, { maxLength: 30 }), (paths) => {
      const found = findEditions(treeOfPaths(paths).folders, shippedRoles)
      const sounds = found.flatMap((edition) =>
        edition.sounds.map((each) => (edition.path === '' ? each.path : `${edition.path}/${each.path}`)),
      )
      expect(sounds.toSorted()).toEqual(paths.filter((each) => each.endsWith('.wav')).sort())
      expect(editionsOf(...paths.toReversed())).toEqual(editionsOf(...paths))
    }),
  )
})
