import { describe, expect, test } from 'vitest'
import type { ConversionAllowed, Licence } from '../../../../app/model/records.ts'
import { fontsConverted, licenceCautions } from '../../../../app/usecases/prepare/licence-cautions.ts'
import { fontLike } from '../../../support/judged-font.ts'

const licence = (font: string, conversionAllowed: ConversionAllowed): Licence => ({
  id: `${font}-${conversionAllowed}`,
  fontId: `font-${font}`,
  fontName: font,
  holder: '',
  kind: 'bought',
  grantedOn: '',
  orderReference: '',
  terms: '',
  conversionAllowed,
  note: '',
})
const cautionsOf = (licences: readonly Licence[], names: readonly string[] = ['Ember']) =>
  licenceCautions(fontsConverted(names.map((name) => fontLike({ name }))), licences)

describe('what licences say of converting', () => {
  test.each([
    ['no', /^Conversion is not allowed by the licence on record for Ember: do not prepare/],
    ['unknown', /^The licence on record for Ember does not say .*: ask the creator/],
  ] as const)('is told where it is %s, as a record', (answer, words) => {
    const told = cautionsOf([licence('Ember', answer)])
    expect(told).toEqual([expect.stringMatching(words)])
    expect(told[0]).toMatch(/ This is a record, not legal advice\.$/)
  })

  test('is not mentioned where it is yes', () => {
    expect(cautionsOf([licence('Ember', 'yes')])).toEqual([])
  })

  test('is not asked of who made the font, unless the record says no', () => {
    const own = (answer: ConversionAllowed): Licence => ({ ...licence('Ember', answer), kind: 'own' })
    expect(cautionsOf([own('unknown')])).toEqual([])
    expect(cautionsOf([own('no')])).toEqual([expect.stringMatching(/^Conversion is not allowed/)])
  })

  test('is told of a font without any licence, as a record, whatever others say', () => {
    expect(cautionsOf([licence('Amber', 'yes')])).toEqual([
      'No licence is on record for Ember: make sure that its creator allows sounds to be converted. This is a record, not legal advice.',
    ])
  })

  test('is yes by one licence of several; no goes before unknown', () => {
    const all = (['no', 'unknown', 'yes'] as const).map((answer) => licence('Ember', answer))
    expect(cautionsOf(all)).toEqual([])
    expect(cautionsOf(all.slice(0, 2).toReversed())).toEqual([expect.stringMatching(/^Conversion is not/)])
  })

  test('names every font once by its own answer, the strongest words first', () => {
    const names = ['Bare', 'Open', 'Mute', 'Shut', 'Dumb', 'Shut']
    const told = cautionsOf(
      [licence('Mute', 'unknown'), licence('Dumb', 'unknown'), licence('Shut', 'no'), licence('Open', 'yes')],
      names,
    )
    expect(told.map((caution) => /on record for ([\w, ]+?)(?::| does| do) /.exec(caution)?.[1])).toEqual([
      'Shut',
      'Mute and Dumb',
      'Bare',
    ])
    expect(told[1]).toBe(
      'The licences on record for Mute and Dumb do not say whether sounds may be converted: ask their creators, and record each answer with its licence. This is a record, not legal advice.',
    )
  })

  test('counts for a font that only lends a sound', () => {
    const edition = fontLike({ name: 'Ember' })
    const source = {
      editionId: 'edition-Lender',
      path: 'drag.wav',
      fontId: 'font-Lender',
      fontName: 'Lender',
      version: '',
      creatorName: null,
    }
    const sounds = edition.sounds.map((sound, index) => (index === 0 ? { ...sound, source } : sound))
    const fonts = fontsConverted([{ ...edition, sounds }])
    expect(licenceCautions(fonts, [licence('Ember', 'yes'), licence('Lender', 'no')])).toEqual([
      expect.stringContaining('for Lender:'),
    ])
  })
})
