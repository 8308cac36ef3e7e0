import { expect, test } from 'vitest'
import { KnownFiles } from '../../../../app/usecases/scan/known-files.ts'

const row = (path: string, sha256: string | null = 'h', fileKey = '7') => ({
  path,
  sizeBytes: 10,
  modifiedNs: '100',
  fileKey,
  sha256,
})
const look = { path: 'a/hum.wav', sizeBytes: 10, modifiedNs: '100', fileKey: '7' }

test.each([
  ['the same', look, 'h'],
  ['another size', { ...look, sizeBytes: 11 }, undefined],
  ['another time', { ...look, modifiedNs: '101' }, undefined],
  ['another inode', { ...look, fileKey: '8' }, undefined],
  ['another place', { ...look, path: 'b/hum.wav' }, undefined],
])('a file that looks %s', (_, seen, want) => {
  expect(new KnownFiles([row('a/hum.wav')]).unchanged(seen)?.sha256).toBe(want)
})

test('what could not be read is tried again', () => {
  expect(new KnownFiles([row('a/hum.wav', null)]).unchanged(look)).toBeNull()
  expect(new KnownFiles([row('b/hum.wav', null)]).moved(look)).toBeNull()
})

test('a file that was renamed is known by its inode', () => {
  expect(new KnownFiles([row('old.wav')]).moved(look)?.path).toBe('old.wav')
})

test('without an inode nothing is known by it', () => {
  expect(new KnownFiles([row('old.wav', 'h', '0')]).moved({ ...look, fileKey: '0' })).toBeNull()
})

test('entries are found below their archive, those of inner archives below the inner one', () => {
  const known = new KnownFiles([
    row('b.zip', ''),
    row('b.zip!/font/hum.wav'),
    row('b.zip!/in.zip', ''),
    row('b.zip!/in.zip!/x.wav'),
    row('c!/hum.wav'),
  ])
  expect(known.entriesOf('b.zip').map(({ path }) => path)).toEqual(['font/hum.wav', 'in.zip'])
  expect(known.entriesOf('b.zip!/in.zip').map(({ path }) => path)).toEqual(['x.wav'])
  expect(known.entriesOf('c')).toEqual([])
})
