import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readScheme } from '../../../app/boards/read-scheme.ts'
import { readName, writeName } from '../../../app/boards/scheme.ts'
import { schemeFromPlaces } from '../../../app/boards/scheme-from-places.ts'
import type { Role, SoundPlace } from '../../../app/model/role.ts'

const at = (role: Role, number: number | null = null, change: Partial<SoundPlace> = {}): SoundPlace => ({
  role,
  part: 'body',
  layer: null,
  number,
  ...change,
})

const confirmed = [
  { path: 'Klang 001.wav', place: at('clash', 1) },
  { path: 'Klang 002.wav', place: at('clash', 2) },
  { path: 'Brummen.wav', place: at('hum') },
  { path: 'ring/low.wav', place: at('swing', null, { layer: 'low' }) },
  { path: 'halt-ende.wav', place: at('lockup', null, { part: 'end' }) },
]

test('a confirmed set becomes a scheme that reads it, and what is named alike', () => {
  const made = schemeFromPlaces('klang', 'Klang', confirmed)
  expect(made.ok).toBe(true)
  if (!made.ok) return
  const scheme = readScheme(made.text, 'klang.yaml')
  for (const { path, place } of confirmed) expect(readName(scheme, path)).toEqual(place)
  expect(readName(scheme, 'klang 17.wav')).toEqual(at('clash', 17))
  expect(writeName(scheme, at('clash', 3))).toBe('Klang 003.wav')
})

test.each([
  [
    'two names of one kind that tell no number apart',
    [
      { path: 'a1.wav', place: at('hum') },
      { path: 'a1.WAV', place: at('clash') },
    ],
    /clash|read/,
  ],
  ['no sound at all', [], /No sound/],
  ['a name with a brace', [{ path: 'a{n}.wav', place: at('hum') }], /No scheme can spell/],
])('a set with %s is refused', (_what, sounds, message) => {
  const made = schemeFromPlaces('x', 'X', sounds)
  expect(made.ok).toBe(false)
  if (!made.ok) expect(made.message).toMatch(message)
})

test('a number that was told and does not stand in the name is no part of the scheme', () => {
  const made = schemeFromPlaces('x', 'X', [{ path: 'thud.wav', place: at('deflect', 1) }])
  expect(made.ok && readName(readScheme(made.text, 'x.yaml'), 'thud.wav')).toEqual(at('deflect'))
})

test('whatever is confirmed, a scheme that is made reads all of it back', () => {
  const path = fc.stringMatching(/^[a-c]{1,2}[-_ ]?[0-9]{0,3}$/).map((stem) => `${stem}.wav`)
  const sound = fc
    .record({ path, role: fc.constantFrom<Role>('hum', 'clash'), numbered: fc.boolean() })
    .map((each) => {
      const digits = /[0-9]+/.exec(each.path)?.[0]
      return {
        path: each.path,
        place: at(each.role, each.numbered && digits !== undefined ? Number(digits) : null),
      }
    })
  fc.assert(
    fc.property(fc.array(sound, { minLength: 1, maxLength: 5 }), (sounds) => {
      const made = schemeFromPlaces('x', 'X', sounds)
      if (!made.ok) return
      const scheme = readScheme(made.text, 'x.yaml')
      for (const { path: name, place } of sounds) expect(readName(scheme, name)).toEqual(place)
    }),
    { numRuns: 400 },
  )
})
