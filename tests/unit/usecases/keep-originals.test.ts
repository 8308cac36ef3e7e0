import { expect, test } from 'vitest'
import { AppError } from '../../../app/errors/app-error.ts'
import type { EditionPlace } from '../../../app/model/library.ts'
import type { LibraryFiles, OpenArchive } from '../../../app/ports/library-files.ts'
import { originalsFrom, type OriginalsSink } from '../../../app/usecases/keep-originals.ts'

const control = { onProgress: () => {}, cancel: new AbortController().signal }
const wanted = [{ path: 'hum.wav', sizeBytes: 3, sha256: 'a'.repeat(64) }]

/** An archive that holds the one file. */
function archiveFiles(): LibraryFiles {
  const entry = { index: 0, name: 'Font/hum.wav', sizeBytes: 3, kind: 'file' }
  const archive = {
    entries: [entry],
    read: () => Promise.resolve(Uint8Array.of(1, 2, 3)),
    close: () => Promise.resolve(),
  } as unknown as OpenArchive
  return {
    openArchive: () => Promise.resolve(archive),
    resolve: (folder: string, below: string) => `${folder}/${below}`,
    close: () => Promise.resolve(),
  } as unknown as LibraryFiles
}

function storeThatSays(code: string, what = 'It could not be.'): OriginalsSink {
  const refuse = () => Promise.reject(new AppError({ code, what, where: 'store', mend: 'See to it.' }))
  return { has: () => Promise.resolve(false), keepFile: refuse, keepBytes: refuse }
}

const places: Readonly<Record<string, EditionPlace>> = {
  'a folder': { path: '/fonts/Font', innerPath: null, state: 'present' } as unknown as EditionPlace,
  'an archive': { path: '/fonts/font.zip', innerPath: 'Font', state: 'present' } as unknown as EditionPlace,
}

test.each([
  { from: 'a folder', says: 'store/disk-full', told: 'store/disk-full' },
  { from: 'an archive', says: 'store/disk-full', told: 'store/disk-full' },
  { from: 'an archive', says: 'store/unwritable', told: 'store/unwritable' },
  { from: 'a folder', says: 'store/changed', told: 'originals/gone' },
  { from: 'an archive', says: 'store/changed', told: 'originals/gone' },
])('where the store says $says of a file of $from, $told is told', async ({ from, says, told }) => {
  const originals = originalsFrom(storeThatSays(says), archiveFiles)
  const keeping = originals.keep('Font', [places[from]!], wanted, control)
  await expect(keeping).rejects.toMatchObject({ code: told })
})

test.each([
  [
    'The file could not be read (EACCES).',
    /^hum.wav cannot be had now: the file could not be read \(EACCES\)./,
  ],
  ['The file is not there any more.', /^hum.wav is no longer where the last scan saw it/],
  ['The file could not be read (ENOTDIR).', /^hum.wav is no longer where the last scan saw it/],
])('a file of which the store says "%s" is told by that', async (what, told) => {
  const originals = originalsFrom(storeThatSays('store/unreadable', what), archiveFiles)
  const keeping = originals.keep('Font', [places['a folder']!], wanted, control)
  await expect(keeping).rejects.toMatchObject({ code: 'originals/gone', what: expect.stringMatching(told) })
})
