import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
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
