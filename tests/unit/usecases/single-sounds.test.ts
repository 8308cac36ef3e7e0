import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Edition } from '../../../app/model/library.ts'
import type { SingleSound } from '../../../app/model/single-sound.ts'
import { sourceIdsOf, withSingleSounds } from '../../../app/usecases/single-sounds.ts'
import { fontLike } from '../../support/judged-font.ts'

function edition(id: string, name: string, ...paths: string[]): Edition {
  const whole = fontLike({ name, sounds: Object.fromEntries(paths.map((path) => [path, {}])) })
  const sounds = whole.sounds.filter(({ path }) => paths.includes(path))
  return { ...whole, id, sounds, font: { ...whole.font, id: `font of ${id}` } }
}
const own = edition('a', 'Amber', 'hum.wav', 'clash-01.wav', 'clash-02.wav')
const lender = edition('z', 'Zinc / live', 'hum.wav', 'clash-01.wav')
const sources = new Map([
  ['a', own],
  ['z', lender],
])
const of = (path: string) => ({ editionId: 'z', path })
const played = (...singles: SingleSound[]) => withSingleSounds(own, singles, sources)
const pathsOf = ({ sounds }: Edition) => sounds.map(({ path }) => path).toSorted()

describe('a font as a build plays it', () => {
  test('is the font itself where the build says nothing of it', () => {
    expect(played()).toBe(own)
    expect(played({ kind: 'left-out', editionId: 'another', path: 'hum.wav' })).toBe(own)
  })

  test('lacks what is left out, and keeps the place of what is replaced', () => {
    const font = played(
      { kind: 'left-out', editionId: 'a', path: 'clash-02.wav' },
      { kind: 'replaced', editionId: 'a', path: 'clash-01.wav', sound: of('hum.wav') },
    )
    expect(pathsOf(font)).toEqual(['Zinc - live/hum.wav', 'hum.wav'])
    const lent = font.sounds.find(({ source }) => source !== undefined)
    expect(lent?.place).toEqual(own.sounds.find(({ path }) => path === 'clash-01.wav')?.place)
    expect(lent?.source).toMatchObject({ editionId: 'z', path: 'hum.wav', fontName: 'Zinc / live' })
    expect(lent?.inspection).toBe(lender.sounds.find(({ path }) => path === 'hum.wav')?.inspection)
    expect(font.soundCount).toBe(2)
  })

  test('has what is added, for what it is told or for what it is for where it comes from', () => {
    const place = { role: 'melt', part: 'body', layer: null, number: 4 } as const
    const font = played(
      { kind: 'added', editionId: 'a', sound: of('clash-01.wav'), place },
      { kind: 'added', editionId: 'a', sound: of('clash-01.wav'), place: null },
    )
    const lent = font.sounds.filter(({ source }) => source !== undefined)
    expect(lent.map(({ path }) => path)).toEqual(['Zinc - live/clash-01.wav', '2 Zinc - live/clash-01.wav'])
    expect(lent.map((sound) => sound.place?.role)).toEqual(['melt', 'clash'])
  })

  test.each<[string, SingleSound]>([
    ['what is to be replaced', { kind: 'replaced', editionId: 'a', path: 'gone.wav', sound: of('hum.wav') }],
    ['what is to take its place', { kind: 'replaced', editionId: 'a', path: 'hum.wav', sound: of('no.wav') }],
    ['what is to be added', { kind: 'added', editionId: 'a', sound: of('no.wav'), place: null }],
  ])('is refused where %s is not there any more', (_what, single) => {
    expect(() => played(single)).toThrow(expect.objectContaining({ code: 'build/sound-gone' }))
  })

  test('never has two sounds of one path, nor bytes that nobody counts', () => {
    const single = fc.oneof(
      fc.record({
        kind: fc.constant('added' as const),
        editionId: fc.constantFrom('a', 'elsewhere'),
        sound: fc.record({
          editionId: fc.constantFrom('a', 'z'),
          path: fc.constantFrom('hum.wav', 'clash-01.wav'),
        }),
        place: fc.constant(null),
      }),
      fc.record({
        kind: fc.constant('left-out' as const),
        editionId: fc.constant('a'),
        path: fc.constantFrom('hum.wav', 'clash-02.wav'),
      }),
    )
    fc.assert(
      fc.property(fc.array(single, { maxLength: 8 }), (singles) => {
        const font = withSingleSounds(own, singles, sources)
        const paths = pathsOf(font)
        expect(new Set(paths).size).toBe(paths.length)
        const soundBytes = (each: Edition) =>
          each.sounds.reduce((sum, { inspection }) => sum + inspection.sizeBytes, 0)
        expect(font.sizeBytes - own.sizeBytes).toBe(soundBytes(font) - soundBytes(own))
      }),
    )
  })
})

test('lenders are those of the fonts that are in the build, each once', () => {
  const added = (editionId: string): SingleSound => ({
    kind: 'added',
    editionId,
    sound: of('hum.wav'),
    place: null,
  })
  expect(sourceIdsOf([added('a'), added('a'), added('other')], ['a'])).toEqual(['z'])
  expect(sourceIdsOf([added('other')], ['a'])).toEqual([])
})
