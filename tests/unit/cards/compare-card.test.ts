import { describe, expect, test } from 'vitest'
import { compareCard } from '../../../app/cards/compare-card.ts'
import type { CardReading } from '../../../app/model/card-reading.ts'
import type { Content, ContentFile } from '../../../app/model/content.ts'

const file = (path: string, sha256: string, kind: 'sound' | 'credits' = 'sound'): ContentFile => ({
  path,
  sizeBytes: 1,
  sha256,
  firstCluster: 3,
  clusterCount: 1,
  origin: kind === 'credits' ? { kind } : { kind, editionId: 'edition', path },
})
const content = {
  files: [file('E/hum.wav', 'h1'), file('E/clash.wav', 'c1'), file('CREDITS.TXT', 'd2', 'credits')],
  formerDocuments: [{ path: 'CREDITS.TXT', sha256: 'd1' }],
} as unknown as Content
const tables = [{ name: 'first FAT', offset: 0, sizeBytes: 512, sha256: 't1' }]

function reading(hashes: Record<string, string>, change: Partial<CardReading> = {}): CardReading {
  const files = Object.entries(hashes).map(([path, sha256]) => ({ path, sizeBytes: 1, sha256 }))
  return { files, faults: [], stretchHashes: ['t1'], ...change }
}
const right = { 'E/hum.wav': 'h1', 'E/clash.wav': 'c1', 'CREDITS.TXT': 'd2' }
const nothing = { missing: [], changed: [], added: [], faults: [] }

describe('a card held against its record', () => {
  test('that is as recorded has no differences', () => {
    expect(compareCard(content, reading(right), tables)).toEqual(nothing)
  })
  test('tells what is missing, changed and added, each by its path', () => {
    const found = reading({ 'E/hum.wav': 'other', 'CREDITS.TXT': 'd2', 'E/mine.wav': 'm' })
    expect(compareCard(content, found, tables)).toEqual({
      missing: ['E/clash.wav'],
      changed: ['E/hum.wav'],
      added: ['E/mine.wav'],
      faults: [],
    })
  })
  test('finds a file whose name an operating system wrote in other letters', () => {
    expect(
      compareCard(content, reading({ 'E/HUM.WAV': 'h1', 'E/clash.wav': 'c1', 'CREDITS.TXT': 'd2' }), []),
    ).toEqual(nothing)
  })
  test('tells which table differs where every file is right', () => {
    const { faults } = compareCard(content, reading(right, { stretchHashes: ['x'] }), tables)
    expect(faults).toEqual([expect.stringContaining('first FAT')])
  })
  test('says nothing of tables where files differ: they follow from that', () => {
    const found = compareCard(
      content,
      reading({ ...right, 'E/hum.wav': 'x' }, { stretchHashes: ['x'] }),
      tables,
    )
    expect(found).toEqual({ ...nothing, changed: ['E/hum.wav'] })
  })
  test('takes credits of an earlier make for right', () => {
    const found = reading({ ...right, 'CREDITS.TXT': 'd1' }, { stretchHashes: ['x'] })
    expect(compareCard(content, found, tables)).toEqual(nothing)
  })
  test('passes on what could not be read', () => {
    const { faults, missing } = compareCard(content, reading({}, { faults: ['E is damaged.'] }), tables)
    expect(faults).toEqual(['E is damaged.'])
    expect(missing).toHaveLength(3)
  })
})
