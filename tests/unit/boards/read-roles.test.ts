import { expect, test } from 'vitest'
import { readRoles } from '../../../app/boards/read-roles.ts'
import { isRoleName } from '../../../app/boards/role-words.ts'
import { shippedSchemes } from '../../support/shipped-schemes.ts'

test.each([
  ['plain-words', ['hum.wav', 'clash-01.wav', 'clash-02.wav', 'ignite.wav']],
  ['short-words', ['hum00.wav', 'clash00.wav', 'swingl00.wav', 'ign00.wav']],
  ['role-folders', ['hum/take-1.wav', 'clash/take-1.wav', 'lockup-begin/take-1.wav']],
])('a font named in %s is known', (schemeId, paths) => {
  const read = readRoles(paths, shippedSchemes)
  expect(read.schemeId).toBe(schemeId)
  expect(read.places).not.toContain(null)
})

test('one odd file among known ones has no place, and the others keep theirs', () => {
  const read = readRoles(['hum.wav', 'clash-01.wav', 'thing.wav'], shippedSchemes)
  expect(read.schemeId).toBe('plain-words')
  expect(read.places.map((place) => place?.role ?? null)).toEqual(['hum', 'clash', null])
})

test('a font of which less than half can be read is not known, and gets no roles by chance', () => {
  const read = readRoles(['hum.wav', 'a.wav', 'b.wav'], shippedSchemes)
  expect(read).toEqual({ schemeId: null, places: [null, null, null] })
})

test('no sounds give no scheme', () => {
  expect(readRoles([], shippedSchemes)).toEqual({ schemeId: null, places: [] })
})

test.each([
  'hum',
  'Clashes',
  'LOW CELL',
  'low-cell',
  'swing-low',
  'swings low',
  'lockup_begin',
  'ignition',
  'boot2',
  'lock up',
  'SwingHigh'.replace('H', ' H'),
])('"%s" names a role', (word) => expect(isRoleName(word)).toBe(true))

test.each([
  '',
  'low',
  'end',
  'ember',
  'humble',
  'cls',
  'sounds',
  '01',
  'hum and clash and swing and more',
  '__proto__',
  'constructor',
])('"%s" names no role', (word) => expect(isRoleName(word)).toBe(false))

test('a sound in another coding is read by its name, unless the same name is there as a WAV', () => {
  const paths = ['hum.flac', 'clash-01.wav', 'Music.MP3', 'ignite-01.wav', 'ignite-01.aiff', 'retract']
  const { places } = readRoles(paths, shippedSchemes)
  expect(places.map((place) => place?.role ?? null)).toEqual([
    ...['hum', 'clash', 'music', 'ignite'],
    null,
    null,
  ])
})
