import { describe, expect, test } from 'vitest'
import type { ArchiveEntry } from '../../../../app/ports/library-files.ts'
import { vetEntries } from '../../../../app/usecases/scan/vet-entries.ts'

function entries(...names: (string | Partial<ArchiveEntry>)[]): ArchiveEntry[] {
  return names.map((each, index) => {
    const given = typeof each === 'string' ? { name: each } : each
    const name = given.name === undefined ? 'font/hum.wav' : given.name
    return {
      index,
      name,
      shownName: name ?? '?',
      encoding: 'utf-8',
      kind: 'file',
      isEncrypted: false,
      sizeBytes: 1,
      ...given,
    }
  })
}

test.each([
  ['../up.wav', 'archive/name-climbs'],
  ['a/../../up.wav', 'archive/name-climbs'],
  ['..\\up.wav', 'archive/name-climbs'],
  ['/abs.wav', 'archive/name-absolute'],
  ['//server/share.wav', 'archive/name-absolute'],
  ['\\\\server\\share.wav', 'archive/name-absolute'],
  ['C:\\x.wav', 'archive/name-absolute'],
  ['c:x.wav', 'archive/name-absolute'],
  ['a/./b.wav', 'archive/name-odd'],
  ['a//b.wav', 'archive/name-odd'],
  ['', 'archive/name-empty'],
  ['a\0.wav', 'archive/name-control'],
  ['a/\u001b[31m.wav', 'archive/name-control'],
  [`a/${'n'.repeat(256)}.wav`, 'archive/name-long'],
])('an entry named %j is refused as %s', (name, code) => {
  const vetted = vetEntries(entries(name, 'font/hum.wav'))
  expect(vetted.refused.map((each) => [each.index, each.code])).toEqual([[0, code]])
  expect(vetted.files.map(({ path }) => path)).toEqual(['font/hum.wav'])
})

test.each(['font/CON.wav', 'font/hum.wav. ', 'font/hum.wav:stream', 'a..b/c.wav', '...', 'font\\hum.wav'])(
  'an entry named %j is taken',
  (name) => {
    expect(vetEntries(entries(name)).files.map(({ path }) => path)).toEqual([name.replaceAll('\\', '/')])
  },
)

describe('entries that cannot be told apart', () => {
  test.each([
    { why: 'the same name', names: ['font/hum.wav', 'font/hum.wav'] },
    { why: 'case', names: ['font/hum.wav', 'Font/HUM.wav'] },
    { why: 'composed letters', names: ['caf\u00e9.wav', 'cafe\u0301.wav'] },
    { why: 'slashes', names: ['font/hum.wav', 'font\\hum.wav'] },
  ])('$why: none of them is taken', ({ names }) => {
    const vetted = vetEntries(entries(...names, 'font/clash-01.wav'))
    expect(vetted.refused.map(({ code }) => code)).toEqual(['archive/name-twice', 'archive/name-twice'])
    expect(vetted.files.map(({ path }) => path)).toEqual(['font/clash-01.wav'])
  })

  test('a file where a folder is, and what lies below it', () => {
    const vetted = vetEntries(entries('font', 'font/hum.wav', 'other/hum.wav'))
    expect(vetted.refused.map(({ code }) => code)).toEqual([
      'archive/file-and-folder',
      'archive/file-and-folder',
    ])
    expect(vetted.files.map(({ path }) => path)).toEqual(['other/hum.wav'])
  })
})

test('a link is refused, and a file through it too', () => {
  const vetted = vetEntries(
    entries({ name: 'font/out', kind: 'link' }, 'font/out/escape.wav', 'font/hum.wav'),
  )
  expect(vetted.refused.map(({ code }) => code)).toEqual(['archive/link', 'archive/file-and-folder'])
})

test('folders and devices are no files; only the device is told', () => {
  const vetted = vetEntries(entries({ name: 'font/', kind: 'folder' }, { name: 'font/tty', kind: 'other' }))
  expect(vetted.files).toEqual([])
  expect(vetted.refused.map(({ code }) => code)).toEqual(['archive/no-file'])
})

test('names in the old encoding are counted, and one is shown', () => {
  const vetted = vetEntries(entries({ name: 'm\u00fchle/hum.wav', encoding: 'cp437' }, 'a.wav'))
  expect(vetted.oldNames).toEqual({ count: 1, example: 'm\u00fchle/hum.wav' })
  expect(vetEntries(entries('a.wav')).oldNames).toBeNull()
})

test('a name that is no text is refused', () => {
  expect(vetEntries(entries({ name: null, shownName: '%ff' })).refused[0]?.code).toBe('archive/name-not-text')
})
