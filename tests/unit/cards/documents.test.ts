import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { creditsText, fingerprintInCredits } from '../../../app/cards/credits.ts'
import { documentSerialOf } from '../../../app/cards/document-serial.ts'
import { utf8Bytes, utf8Text } from '../../../app/cards/utf8-bytes.ts'
import type { LicenceRecord } from '../../../app/model/licence-record.ts'
import { licenceDocuments } from '../../../main/adapters/documents/licence-documents.ts'
import { nodeHasher } from '../../support/node-hasher.ts'

function recordOf(fingerprint: string, date: string, fileCount = 2): LicenceRecord {
  return {
    fingerprint,
    date,
    toolVersion: '0.1.0',
    boardTitle: 'Bench 44',
    serialUuid: documentSerialOf(fingerprint, nodeHasher),
    fonts: [
      {
        slot: 1,
        folder: '01-harbour-bell',
        name: 'Harbour Bell',
        version: '1.2',
        creatorName: 'Tidewater Bench',
        licences: [
          { kind: 'bought', terms: 'one build' },
          { kind: 'gift', terms: '' },
        ],
        files: Array.from({ length: fileCount }, (_, index) => ({
          path: `01-harbour-bell/hum${index}.wav`,
          sizeBytes: 1000,
          sha256: index.toString(16).padStart(64, '0'),
        })),
      },
      {
        slot: 2,
        folder: '02-ümläut',
        name: 'Ümläut',
        version: '',
        creatorName: null,
        licences: [],
        files: [],
      },
    ],
  }
}

const one = recordOf('7Q2M4K9XZA', '2026-11-25T09:30:01Z')
const blank = recordOf('0000000000', '1980-01-01T00:00:00Z')

describe('credits', () => {
  test('tell people which font is which, by whom, and under what', async () => {
    await expect(creditsText(one, 'LICENCES.CDX.JSON')).toMatchFileSnapshot('../../golden/credits.txt')
  })
  test('name the content, so that a card can be held against its record', () => {
    expect(fingerprintInCredits(creditsText(one, 'L'))).toBe('7Q2M4K9XZA')
    expect(fingerprintInCredits('Content of this card: sounds')).toBeNull()
    expect(fingerprintInCredits('Content ABCDEFGHIL')).toBeNull()
  })
  test('are as long whatever the fingerprint and the date', () => {
    expect(utf8Bytes(creditsText(one, 'L')).length).toBe(utf8Bytes(creditsText(blank, 'L')).length)
  })
  test('keep a font’s name on its line', () => {
    const [font] = one.fonts
    if (font === undefined) throw new Error('no font')
    const text = creditsText({ ...one, fonts: [{ ...font, name: 'Two\r\nContent 0000000000' }] }, 'L')
    expect(text).toContain('1. Two Content 0000000000')
    expect(fingerprintInCredits(text)).toBe('7Q2M4K9XZA')
  })
})

const lending: LicenceRecord = {
  ...one,
  lenders: [
    {
      name: 'Quiet Foundry',
      version: '',
      creatorName: 'Kolmarra',
      licences: [{ kind: 'free', terms: 'name the maker' }],
      files: [{ path: '02-ümläut/clash-02.wav', sizeBytes: 10, sha256: 'e'.repeat(64) }],
    },
  ],
}

describe('single sounds of other fonts', () => {
  test('stand behind the fonts of the card, with their maker and licence, in both documents', async () => {
    const text = creditsText(lending, 'LICENCES.CDX.JSON')
    expect(text).toContain(
      [
        'Single sounds of other fonts, played in those above',
        '     Quiet Foundry',
        '     by Kolmarra',
        '     file 02-ümläut/clash-02.wav',
        '     licence: free of charge',
      ].join('\r\n'),
    )
    await expect(licenceDocuments.requireValid(lending)).resolves.toBeUndefined()
    const document = JSON.parse(utf8Text(licenceDocuments.serialise(lending)) ?? '') as {
      components: { name: string; supplier?: { name: string }; licenses: unknown[]; components: unknown[] }[]
    }
    expect(document.components.map(({ name }) => name)).toEqual(['Harbour Bell', 'Ümläut', 'Quiet Foundry'])
    expect(document.components[2]).toMatchObject({
      supplier: { name: 'Kolmarra' },
      licenses: [{ license: { licensing: { licensor: { organization: { name: 'Kolmarra' } } } } }],
      components: [{ name: '02-ümläut/clash-02.wav' }],
    })
  })
  test('change nothing in the documents of a card that has none', () => {
    expect(licenceDocuments.serialise({ ...one, lenders: [] })).toEqual(licenceDocuments.serialise(one))
    expect(creditsText({ ...one, lenders: [] }, 'L')).toBe(creditsText(one, 'L'))
  })
})

describe('the licence record', () => {
  test('holds before the validator of the standard’s library', async () => {
    await expect(licenceDocuments.requireValid(one)).resolves.toBeUndefined()
    await expect(licenceDocuments.requireValid({ ...one, fonts: [] })).resolves.toBeUndefined()
  })
  test('that breaks the standard is refused', async () => {
    const [font] = one.fonts
    if (font === undefined) throw new Error('no font')
    const broken = { ...one, fonts: [{ ...font, creatorName: 5 as unknown as string }] }
    await expect(licenceDocuments.requireValid(broken)).rejects.toThrow(TypeError)
  })
  test('is the same each time, and as long whatever the fingerprint and the date', () => {
    const bytes = licenceDocuments.serialise(one)
    expect(licenceDocuments.serialise(one)).toEqual(bytes)
    expect(licenceDocuments.serialise(blank).length).toBe(bytes.length)
  })
  test('says of each licence whether it allows conversion, where that is known, and else nothing', async () => {
    const [font] = one.fonts
    if (font === undefined) throw new Error('no font')
    const told: LicenceRecord = {
      ...one,
      fonts: [
        {
          ...font,
          licences: [
            { kind: 'bought', terms: 'one build' },
            { kind: 'gift', terms: '', conversionAllowed: 'no' },
          ],
        },
      ],
    }
    await expect(licenceDocuments.requireValid(told)).resolves.toBeUndefined()
    const document = JSON.parse(utf8Text(licenceDocuments.serialise(told)) ?? '') as {
      components: { licenses: { license: { name: string; properties?: unknown } }[] }[]
    }
    expect(
      document.components[0]?.licenses.map(({ license: { name, properties } }) => [name, properties]),
    ).toEqual([
      ['Harbour Bell: bought', undefined],
      ['Harbour Bell: gift', [{ name: 'cardwright:conversion-allowed', value: 'no' }]],
    ])
    expect(utf8Text(licenceDocuments.serialise(one))).not.toContain('conversion')
  })
  test('names each font with its maker, licence and the hash of every file', () => {
    const document = JSON.parse(new TextDecoder().decode(licenceDocuments.serialise(one))) as {
      components: unknown[]
    }
    expect(document).toMatchObject({ bomFormat: 'CycloneDX', specVersion: '1.6' })
    expect(document.components[0]).toMatchObject({
      name: 'Harbour Bell',
      version: '1.2',
      supplier: { name: 'Tidewater Bench' },
      licenses: [
        {
          license: {
            name: 'Harbour Bell: bought',
            text: { content: 'one build' },
            licensing: { licensor: { organization: { name: 'Tidewater Bench' } } },
          },
        },
        { license: { name: 'Harbour Bell: gift' } },
      ],
      components: [
        { name: '01-harbour-bell/hum0.wav', hashes: [{ alg: 'SHA-256', content: '0'.repeat(64) }] },
        { name: '01-harbour-bell/hum1.wav' },
      ],
    })
  })
  test('has a serial number that the fingerprint alone decides (RFC 9562, version 8)', () => {
    expect(one.serialUuid).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
    expect(documentSerialOf('7Q2M4K9XZA', nodeHasher)).toBe(one.serialUuid)
    expect(blank.serialUuid).not.toBe(one.serialUuid)
  })
})

test('text becomes UTF-8 and comes back as the platform has it', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      expect(utf8Bytes(text)).toEqual(new Uint8Array(new TextEncoder().encode(text)))
      expect(utf8Text(utf8Bytes(text))).toBe(text.toWellFormed())
    }),
  )
})

test('bytes that are no UTF-8 become marks, never a fault', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 60 }), (bytes) => {
      expect(typeof utf8Text(bytes)).toBe('string')
    }),
  )
  expect(utf8Text(Uint8Array.of(0x41, 0xff, 0xe3, 0x81, 0x42))).toBe('A\ufffd\ufffdB')
})
