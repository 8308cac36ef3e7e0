import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { preparedFolders } from '../../main/adapters/files/prepared-folders.ts'
import { sha256Of } from '../support/node-hasher.ts'
import { temporaryFolder, writeFiles } from '../support/temporary-folder.ts'

const control = { onProgress: () => {}, cancel: new AbortController().signal }
const bytes = Uint8Array.from({ length: 3000 }, (_, index) => index % 251)

function opened() {
  const base = temporaryFolder()
  writeFiles(base, { kept: bytes })
  const file = (path: string) => ({ path, sourcePath: join(base, 'kept'), sha256: sha256Of(bytes) })
  return { base, into: join(base, 'into'), file }
}

test('fonts stand there as whole folders, and nothing beside them', async () => {
  const { into, file } = opened()
  await preparedFolders.write(into, [file('00_ASH/HUM.WAV'), file('01_BELL/HUM.WAV')], control)
  expect(readdirSync(into)).toEqual(['00_ASH', '01_BELL'])
  expect(new Uint8Array(readFileSync(join(into, '01_BELL', 'HUM.WAV')))).toEqual(bytes)
})

test('what a killed process had half written is cleared away, that of a running one is left', async () => {
  const { into, file } = opened()
  // No process has this number: it is above what systems give out.
  mkdirSync(join(into, '.half-4194999', '00_ASH'), { recursive: true })
  mkdirSync(join(into, `.half-${process.ppid}`))
  await preparedFolders.write(into, [file('00_ASH/HUM.WAV')], control)
  expect(readdirSync(into).toSorted()).toEqual([`.half-${process.ppid}`, '00_ASH'])
})

test('a copy in the store that is damaged is told, and nothing is left', async () => {
  const { base, into, file } = opened()
  writeFileSync(join(base, 'kept'), 'other bytes')
  const writing = preparedFolders.write(into, [file('00_ASH/HUM.WAV')], control)
  await expect(writing).rejects.toMatchObject({ code: 'store/damaged', where: '00_ASH/HUM.WAV' })
  expect(readdirSync(into)).toEqual([])
})

test('a folder that is there already is refused before anything is written', async () => {
  const { into, file } = opened()
  mkdirSync(join(into, '01_BELL'), { recursive: true })
  const writing = preparedFolders.write(into, [file('00_ASH/HUM.WAV'), file('01_BELL/HUM.WAV')], control)
  await expect(writing).rejects.toMatchObject({ code: 'prepare/folder-exists' })
  expect(readdirSync(into)).toEqual(['01_BELL'])
})

describe('where a killed run has finished the first of two folders', () => {
  const fonts = ['00_ASH/HUM.WAV', '00_ASH/TRACKS/ONE.WAV', '01_BELL/HUM.WAV']

  async function oneFinished() {
    const bench = opened()
    const files = fonts.map(bench.file)
    await preparedFolders.write(bench.into, files.slice(0, 2), control)
    const ash = join(bench.into, '00_ASH')
    return { ...bench, files, ash }
  }

  test('the next run takes that one as it is and writes the second', async () => {
    const { into, files, ash } = await oneFinished()
    const before = statSync(join(ash, 'HUM.WAV'))
    await preparedFolders.write(into, files, control)
    expect(readdirSync(into)).toEqual(['00_ASH', '01_BELL'])
    const { ino, mtimeMs } = statSync(join(ash, 'HUM.WAV'))
    expect({ ino, mtimeMs }).toEqual({ ino: before.ino, mtimeMs: before.mtimeMs })
    await preparedFolders.write(into, files, control)
    expect(readdirSync(into)).toEqual(['00_ASH', '01_BELL'])
  })

  test.each<{ readonly what: string; change(ash: string): void }>([
    {
      what: 'one byte more',
      change: (ash) => writeFileSync(join(ash, 'HUM.WAV'), Uint8Array.of(...bytes, 0)),
    },
    {
      what: 'one other byte',
      change: (ash) => writeFileSync(join(ash, 'TRACKS/ONE.WAV'), bytes.with(7, 99)),
    },
    { what: 'one file less', change: (ash) => rmSync(join(ash, 'TRACKS'), { recursive: true }) },
    { what: 'one file more', change: (ash) => writeFileSync(join(ash, 'NOTES.TXT'), 'mine') },
    { what: 'an empty folder more', change: (ash) => mkdirSync(join(ash, 'MINE')) },
    {
      what: 'a link instead of a file',
      change: (ash) => {
        renameSync(join(ash, 'HUM.WAV'), join(ash, '..', 'elsewhere'))
        symlinkSync('../elsewhere', join(ash, 'HUM.WAV'))
      },
    },
  ])('it is refused with $what, and nothing is written', async ({ change }) => {
    const { into, files, ash } = await oneFinished()
    change(ash)
    const writing = preparedFolders.write(into, files, control)
    await expect(writing).rejects.toMatchObject({ code: 'prepare/folder-exists', where: ash })
    expect(readdirSync(into)).not.toContain('01_BELL')
  })
})

describe('a page', () => {
  test('is written into a folder that is there, in the place of a former one', async () => {
    const { base } = opened()
    const path = join(base, 'page.html')
    await preparedFolders.requirePlaceOfPage(path)
    await preparedFolders.writePage(path, 'one')
    await preparedFolders.writePage(path, 'two')
    expect(readFileSync(path, 'utf8')).toBe('two')
  })

  test.each(['missing/page.html', 'missing/deeper/page.html', 'kept/page.html'])(
    'is refused at %s, and no folder is made',
    async (place) => {
      const { base } = opened()
      const path = join(base, ...place.split('/'))
      const refusal = { code: 'report/folder-missing', where: path }
      await expect(preparedFolders.requirePlaceOfPage(path)).rejects.toMatchObject(refusal)
      await expect(preparedFolders.writePage(path, 'one')).rejects.toMatchObject(refusal)
      expect(readdirSync(base)).toEqual(['kept'])
    },
  )
})

test.runIf(existsSync('/proc/version')).each([
  ['a file system that makes no folders', () => '/proc/nothing/of-this-kind', /No folder can be made there/],
  ['a file in the place of the folder', (base: string) => join(base, 'kept'), /A file lies where the folder/],
  ['a file on the way', (base: string) => join(base, 'kept', 'into'), /A file lies where a folder/],
])('%s is told', async (_, intoOf, words) => {
  const { base, file } = opened()
  const into = intoOf(base)
  const writing = preparedFolders.write(into, [file('00_ASH/HUM.WAV')], control)
  await expect(writing).rejects.toMatchObject({
    code: 'prepare/unwritable',
    what: expect.stringMatching(words) as unknown,
    where: into,
  })
})
