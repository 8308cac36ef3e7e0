import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readScheme } from '../../../app/boards/read-scheme.ts'
import { compileScheme, placesOf, readName, writeName } from '../../../app/boards/scheme.ts'
import type { SchemeFile } from '../../../app/boards/scheme-file.ts'
import { LAYERS, PARTS, ROLES } from '../../../app/model/role.ts'
import type { SoundPlace } from '../../../app/model/role.ts'
import { shippedScheme, shippedSchemes } from '../../support/shipped-schemes.ts'

const anyNumber = fc.oneof(fc.nat({ max: 120 }), fc.nat({ max: 999_999_999 }))

describe('writing a place and reading the name gives the place back', () => {
  test.each(shippedSchemes.map((scheme) => [scheme.id, scheme] as const))('in %s', (_id, scheme) => {
    const places = placesOf(scheme)
    expect(places.length).toBeGreaterThan(ROLES.length)
    fc.assert(
      fc.property(fc.constantFrom(...places), anyNumber, fc.boolean(), (witness, number, shout) => {
        const place = witness.number === null ? witness : { ...witness, number }
        const name = writeName(scheme, place) ?? ''
        expect(readName(scheme, shout ? name.toUpperCase() : name)).toEqual(place)
      }),
      { numRuns: 500 },
    )
  })

  test('in any scheme that is accepted, whatever its words and templates', () => {
    const word = fc.stringMatching(/^[a-c1]{1,2}$/)
    const joint = fc.constantFrom('', '-', 'a', '1', '/')
    const template = fc
      .tuple(
        fc.constantFrom('{role}', '{role}{part}', '{part}{role}', '{role}{layer}', '{layer}{role}'),
        joint,
        fc.constantFrom('', '{n}', '{n:02}'),
        joint,
        fc.boolean(),
      )
      .map(([words, before, number, after, numberFirst]) =>
        numberFirst ? `${number}${before}${words}${after}x.wav` : `${words}${before}${number}${after}x.wav`,
      )
    let accepted = 0
    fc.assert(
      fc.property(
        fc.array(template, { minLength: 1, maxLength: 3 }),
        fc.record({ hum: word, clash: word, swing: word }),
        fc.record({ begin: word, end: word, before: word, after: word }),
        anyNumber,
        (templates, roles, parts, number) => {
          const compiled = compileScheme({
            scheme: { id: 'made', title: 'Made' },
            words: { roles: { ...allNull(), ...roles }, parts },
            templates,
          })
          if (!compiled.ok) return
          accepted++
          for (const witness of placesOf(compiled.scheme)) {
            const place = witness.number === null ? witness : { ...witness, number }
            expect(readName(compiled.scheme, writeName(compiled.scheme, place) ?? '')).toEqual(place)
          }
        },
      ),
      { numRuns: 800, seed: 7 },
    )
    expect(accepted).toBeGreaterThan(100)
  })
})

function allNull(): NonNullable<NonNullable<SchemeFile['words']>['roles']> {
  return Object.fromEntries(ROLES.map((role) => [role, null]))
}

const body = (role: SoundPlace['role'], number: number | null = null): SoundPlace => ({
  role,
  part: 'body',
  layer: null,
  number,
})

test.each([
  ['plain-words', body('hum'), 'hum.wav'],
  ['plain-words', body('clash', 3), 'clash-03.wav'],
  ['plain-words', body('low-cell'), 'low-cell.wav'],
  ['plain-words', { ...body('lockup'), part: 'begin' as const }, 'lockup-begin.wav'],
  ['plain-words', { ...body('swing', 2), layer: 'low' as const }, 'swing-low-02.wav'],
  ['short-words', body('hum', 0), 'hum00.wav'],
  ['short-words', { ...body('swing', 7), layer: 'high' as const }, 'swingh07.wav'],
  ['short-words', { ...body('ignite', 1), part: 'before' as const }, 'ignq01.wav'],
  ['role-folders', body('clash', 12), 'clash/take-12.wav'],
  ['role-folders', { ...body('swing', 1), layer: 'low' as const }, 'swing-low/take-1.wav'],
] as const)('%s spells %o as %s', (id, place, name) => {
  expect(writeName(shippedScheme(id), place)).toBe(name)
  expect(readName(shippedScheme(id), name)).toEqual(place)
})

test('a short word with its ending never has more than twelve characters, up to number 99', () => {
  for (const witness of placesOf(shippedScheme('short-words'))) {
    const place = witness.number === null ? witness : { ...witness, number: 99 }
    expect(writeName(shippedScheme('short-words'), place)?.length).toBeLessThanOrEqual(12)
  }
})

test('every shipped scheme spells every role, every part and both layers of a swing', () => {
  for (const scheme of shippedSchemes) {
    for (const role of ROLES) {
      for (const part of PARTS)
        expect(writeName(scheme, { role, part, layer: null, number: 1 })).not.toBeNull()
    }
    for (const layer of LAYERS) {
      expect(writeName(scheme, { role: 'swing', part: 'body', layer, number: 1 })).not.toBeNull()
    }
  }
})

test.each([
  ['any case', 'CLASH-03.WAV', 3],
  ['missing zeros', 'clash-3.wav', 3],
  ['more zeros', 'clash-0003.wav', 3],
])('a name is read with %s', (_why, name, number) => {
  expect(readName(shippedScheme('plain-words'), name)).toEqual(body('clash', number))
})

test.each([
  'clash-99999999999999999999.wav',
  'clash-٣.wav',
  'clash-03.wav.',
  'clash.mp3',
  'inner/clash.wav',
  '__proto__.wav',
  '',
  'swing-low-begin.wav',
])('"%s" is no name of plain-words', (name) => {
  expect(readName(shippedScheme('plain-words'), name)).toBeNull()
})

test('a scheme without words for a place says so', () => {
  const { scheme } = accepted({ templates: ['{role}.wav'] })
  expect(writeName(scheme, body('clash', 3))).toBeNull()
  expect(writeName(scheme, { ...body('lockup'), part: 'begin' })).toBeNull()
})

test('of several spellings the first is written and all are read', () => {
  const { scheme } = accepted({ templates: ['{role}.wav'], words: { roles: { hum: ['drone', 'idle'] } } })
  expect(writeName(scheme, body('hum'))).toBe('drone.wav')
  expect(readName(scheme, 'idle.wav')).toEqual(body('hum'))
  expect(readName(scheme, 'hum.wav')).toBeNull()
})

function accepted(file: Omit<SchemeFile, 'scheme'>): {
  scheme: import('../../../app/boards/scheme.ts').Scheme
} {
  const compiled = compileScheme({ scheme: { id: 'made', title: 'Made' }, ...file })
  if (!compiled.ok) throw new Error(compiled.message)
  return compiled
}

test.each([
  {
    name: 'a number that one template spells and another writes out',
    templates: ['{role}-{n}.wav', { name: 'hum-7.wav', role: 'hum', part: 'begin' }],
    says: 'Templates "{role}-{n}.wav" and "hum-7.wav" clash: "hum-7.wav" can be read as hum 7 and as hum, begin.',
  },
  {
    name: 'two words that are equal but for case',
    templates: ['{role}.wav'],
    words: { roles: { hum: 'Drone', swing: 'drone' } },
    says: 'Template "{role}.wav" is ambiguous: "Drone.wav" can be read as hum and as swing.',
  },
  {
    name: 'words that run into one another',
    templates: ['{role}.wav', '{role}{part}.wav'],
    words: { roles: { hum: 'h', swing: 'hb' }, parts: { begin: 'b' } },
    says: 'Templates "{role}.wav" and "{role}{part}.wav" clash: "hb.wav" can be read as swing and as hum, begin.',
  },
  {
    name: 'a word that takes over the number of another',
    templates: ['{role}{n}.wav'],
    words: { roles: { hum: 'hum2x', swing: 'hum' } },
    says: null,
  },
  {
    name: 'numbers in two places',
    templates: [
      { name: '{role}-2-{n}.wav', role: 'hum' },
      { name: '{role}-{n}-2.wav', role: 'hum' },
    ],
    says: null,
  },
] as const)('$name', ({ says, ...file }) => {
  const compiled = compileScheme({
    scheme: { id: 'made', title: 'Made' },
    ...(file as Omit<SchemeFile, 'scheme'>),
  })
  if (says === null) expect(compiled.ok).toBe(true)
  else expect(compiled).toEqual({ ok: false, message: says })
})

test.each([
  ['{role}1{n}.wav', 'puts a digit beside the number'],
  ['{n}{n}.wav', 'twice'],
  ['{n}.wav', 'neither has {role} nor says which role it spells'],
  ['{role}.mp3', 'does not end with .wav'],
  ['../{role}.wav', 'is no path inside'],
  ['/{role}.wav', 'is no path inside'],
  ['{rolle}.wav', 'is no slot'],
  ['{role.wav', 'brace without its partner'],
])('the template %s is refused: it %s', (template, why) => {
  const compiled = compileScheme({ scheme: { id: 'made', title: 'Made' }, templates: [template] })
  expect(compiled).toMatchObject({ ok: false })
  if (!compiled.ok) expect(compiled.message).toContain(why)
})

test('a misspelt key of a scheme file is told with its line, its column and the right word', () => {
  const text = 'scheme:\n  id: mine\n  titel: Mine\ntemplates:\n  - "{role}.wav"\n'
  expect(() => readScheme(text, 'mine.yaml')).toThrow(
    /mine\.yaml, line 3, column 3: "titel" is not known here\. Did you mean "title"\?/,
  )
})

test('a clash in a scheme file is told at its templates', () => {
  const text =
    'scheme: { id: mine, title: Mine }\nwords: { roles: { hum: x, swing: x } }\ntemplates: ["{role}.wav"]\n'
  expect(() => readScheme(text, 'mine.yaml')).toThrow(
    /mine\.yaml, line 3, column 1: Template "\{role\}\.wav" is ambiguous/,
  )
})
