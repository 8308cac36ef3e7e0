import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { nameFault, nameKey } from '../../../app/cards/card-name.ts'
import { isShortName, shortNamesOf, shownShortName } from '../../../app/cards/short-names.ts'
import { shortNameChecksum } from '../../../app/cards/directory-bytes.ts'
import { planCard } from '../../../app/cards/plan-card.ts'
import { boardOf } from '../../support/random-cards.ts'

describe('short names', () => {
  test.each([
    { names: ['HUM.WAV'], want: ['HUM.WAV'] },
    { names: ['hum.wav'], want: ['HUM.WAV'] },
    { names: ['clash01.wav', 'clash02.wav'], want: ['CLASH01.WAV', 'CLASH02.WAV'] },
    // The example of FAT 1.03: "The quick brown.fox" is THEQUI~1.FOX.
    { names: ['The quick brown.fox'], want: ['THEQUI~1.FOX'] },
    { names: ['swing high 1.wav', 'swing high 2.wav'], want: ['SWINGH~1.WAV', 'SWINGH~2.WAV'] },
    { names: ['a.b.c'], want: ['AB~1.C'] },
    { names: ['one+two.wav'], want: ['ONE_TW~1.WAV'] },
    { names: ['.profile'], want: ['PROFIL~1'] },
    { names: ['readme.text'], want: ['README~1.TEX'] },
    { names: ['日本.wav'], want: ['__~1.WAV'] },
    { names: ['a b.wav'], want: ['AB~1.WAV'] },
  ])('of $names are $want', ({ names, want }) => {
    expect(shortNamesOf(names).map(shownShortName)).toEqual(want)
  })

  test('never take the place of a name that is spelt like one', () => {
    expect(shortNamesOf(['swing high.wav', 'SWINGH~1.WAV']).map(shownShortName)).toEqual([
      'SWINGH~2.WAV',
      'SWINGH~1.WAV',
    ])
  })

  test('of two thousand like names are all different, with ever longer tails', () => {
    const names = Array.from({ length: 2000 }, (_, index) => `background sound ${index}.wav`)
    const shorts = shortNamesOf(names).map(shownShortName)
    expect(new Set(shorts).size).toBe(2000)
    expect(shorts[9]).toBe('BACKG~10.WAV')
    expect(shorts[1999]).toBe('BAC~2000.WAV')
  })

  test('are of eleven characters, differ, and equal no other long name', () => {
    const letters = fc.constantFrom(...'abAB01~. _é日')
    const name = fc
      .string({ unit: letters, minLength: 1, maxLength: 14 })
      .filter((text) => nameFault(text) === null)
    fc.assert(
      fc.property(fc.uniqueArray(name, { selector: nameKey, maxLength: 30, size: 'max' }), (names) => {
        const shorts = shortNamesOf(names)
        const keys = shorts.map((short) => nameKey(shownShortName(short)))
        expect(new Set(keys).size).toBe(names.length)
        shorts.forEach((short, index) => {
          expect(short).toMatch(/^[^ ][^.]{10}$/)
          names.forEach((name, other) => {
            if (other !== index) expect(keys[index]).not.toBe(nameKey(name))
          })
        })
      }),
      { numRuns: 500 },
    )
  })

  test('spell a name themselves only where it is upper-case 8.3', () => {
    const [upper = '', lower = ''] = [shortNamesOf(['HUM.WAV'])[0], shortNamesOf(['hum.wav'])[0]]
    expect(isShortName('HUM.WAV', upper)).toBe(true)
    expect(isShortName('hum.wav', lower)).toBe(false)
  })

  test('have the checksum of the specification’s sum', () => {
    // By hand: each step rotates right by one and adds; a name of eleven spaces.
    let sum = 0
    for (let index = 0; index < 11; index++) sum = ((sum % 2) * 128 + Math.floor(sum / 2) + 0x20) % 256
    expect(shortNameChecksum(' '.repeat(11))).toBe(sum)
  })
})

describe('names that a card cannot hold', () => {
  test.each([
    { name: '', fault: 'empty' },
    { name: 'a'.repeat(256), fault: '256 UTF-16 units' },
    { name: 'hum?.wav', fault: 'character ?' },
    { name: 'hum/wav', fault: 'character /' },
    { name: 'hum\u0007.wav', fault: 'control character' },
    { name: 'hum\ud800.wav', fault: 'half a character' },
    { name: 'hum.', fault: 'ends with' },
    { name: 'hum ', fault: 'ends with' },
    { name: ' hum', fault: 'starts with' },
    { name: '..', fault: 'ends with' },
    { name: 'con', fault: 'devices' },
    { name: 'LPT1.wav', fault: 'devices' },
  ])('"$name" is refused: $fault', ({ name, fault }) => {
    expect(nameFault(name)).toContain(fault)
  })

  test.each([
    'HUM.WAV',
    'a'.repeat(255),
    '日'.repeat(255),
    'icon.png',
    'con1.wav',
    'a b+c,d;e=f[g].wav',
    '𝄞.wav',
  ])('%s is taken', (name) => {
    expect(nameFault(name)).toBeNull()
  })
})

describe('names of one folder that a card would mix up', () => {
  const plan = (...paths: string[]) => {
    const files = paths.map((path) => ({
      path,
      sizeBytes: 1,
      sha256: 'a'.repeat(64),
      origin: { kind: 'sound', editionId: 'edition', path } as const,
    }))
    return () => planCard({ files, board: boardOf(), imageBytes: null })
  }
  test.each([
    { why: 'differ only by case', paths: ['E/hum.wav', 'E/HUM.wav'] },
    { why: 'differ only by how an accent is composed', paths: ['E/\u00e9.wav', 'E/e\u0301.wav'] },
    { why: 'are equal', paths: ['E/hum.wav', 'E/hum.wav'] },
    { why: 'are a file and a folder', paths: ['E', 'E/hum.wav'] },
    { why: 'are a folder and a file', paths: ['E/hum.wav', 'e'] },
    { why: 'are folders that differ by case', paths: ['E/hum.wav', 'e/clash.wav'] },
  ])('are refused where they $why', ({ paths }) => {
    expect(plan(...paths)).toThrow(expect.objectContaining({ code: 'card/name-clash' }))
  })
  test('are taken where they lie in different folders', () => {
    expect(plan('A/hum.wav', 'B/HUM.wav')).not.toThrow()
  })
})
