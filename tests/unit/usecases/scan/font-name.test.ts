import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { labelsInArchive, nameEdition, readFontLabel } from '../../../../app/usecases/scan/font-name.ts'

describe("a font's name and version from its label", () => {
  test.each([
    ['Ember Loom v2', 'Ember Loom', '2'],
    ['Harbour Bell v1.2', 'Harbour Bell', '1.2'],
    ['ember_loom_1.1', 'ember_loom', '1.1'],
    ['Ember-V2.0b', 'Ember', '2.0b'],
    ['Ember (v3)', 'Ember', '3'],
    ['Ember [1.4.2]', 'Ember', '1.4.2'],
    ['Ember version 2', 'Ember', '2'],
    ['Ember 2', 'Ember 2', ''],
    ['Ember', 'Ember', ''],
    ['copper-moth', 'copper-moth', ''],
    ['nova', 'nova', ''],
    ['Groove2', 'Groove2', ''],
    ['v2', '', '2'],
    ['1.1', '', '1.1'],
    ['....', '....', ''],
    ['__proto__', '__proto__', ''],
    ['--into', '--into', ''],
    [' ', ' ', ''],
  ])('%j is %j, version %j', (label, name, version) =>
    expect(readFontLabel(label)).toEqual({ name, version }),
  )

  test('a name is never lost: it or its version is always there', () => {
    fc.assert(
      fc.property(fc.string({ minLength: 1 }), (label) => {
        const read = readFontLabel(label)
        expect(read.name !== '' || read.version !== '').toBe(true)
      }),
    )
  })
})

describe("an edition's name", () => {
  test.each([
    { labels: ['fonts', 'Varnisk', 'Ember v2'], name: 'Ember', version: '2', creator: 'Varnisk' },
    { labels: ['fonts', 'Ember'], name: 'Ember', version: '', creator: null },
    { labels: ['Varnisk', 'Ember'], name: 'Ember', version: '', creator: 'Varnisk' },
    { labels: ['fonts', 'Varnisk', 'Ember', 'v2'], name: 'Ember', version: '2', creator: 'Varnisk' },
    { labels: ['fonts', 'Ember', 'sounds'], name: 'Ember', version: '', creator: null },
    { labels: ['Ember'], name: 'Ember', version: '', creator: 'Above' },
    { labels: ['sounds'], name: 'sounds', version: '', creator: 'Above' },
    { labels: ['v2'], name: 'v2', version: '2', creator: 'Above' },
  ])('$labels is $name of $creator', ({ labels, name, version, creator }) => {
    expect(nameEdition(labels, 'Above')).toEqual({ name, version, proposedCreatorName: creator })
  })
})

describe('the labels of an edition in an archive', () => {
  test.each([
    {
      why: 'the only folder names the font',
      archive: 'download-77',
      inside: ['Ember'],
      want: ['Maker', 'Ember'],
    },
    {
      why: 'the archive alone knows the version',
      archive: 'Ember_v2',
      inside: ['Ember'],
      want: ['Maker', 'Ember_v2'],
    },
    {
      why: 'a folder that says nothing',
      archive: 'Ember v2',
      inside: ['font'],
      want: ['Maker', 'Ember v2', 'font'],
    },
    { why: 'no folder inside', archive: 'Ember v2', inside: [], want: ['Maker', 'Ember v2'] },
  ])('$why', ({ archive, inside, want }) => {
    expect(labelsInArchive(['Maker'], archive, inside, true)).toEqual(want)
  })

  test('where it holds several, the archive is their maker', () => {
    const labels = labelsInArchive(['fonts'], 'Varnisk', ['Ember v2'], false)
    expect(nameEdition(labels, null)).toEqual({ name: 'Ember', version: '2', proposedCreatorName: 'Varnisk' })
  })
})
