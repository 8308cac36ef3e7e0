import { spawnSync } from 'node:child_process'
import { mkdirSync, readdirSync, utimesSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { removeLeftBehind } from '../../../main/adapters/files/left-behind.ts'
import { withTemporaryFolder } from '../../../main/adapters/files/temporary-folder.ts'
import { temporaryFolder } from '../../support/temporary-folder.ts'

const gone = spawnSync(process.execPath, ['--version']).pid
const processIdOf = (name: string) => Number(/^half\.(\d+)$/.exec(name)?.[1] ?? NaN)

test.each([
  { name: `half.${gone}`, is: 'of a process that is gone', goes: true },
  { name: `half.${process.pid}`, is: 'of this process', goes: false },
  { name: `half.${process.ppid}`, is: 'of another that runs', goes: false },
  { name: `half.${process.pid}`, is: 'of an earlier process of the same number', goes: true, isOld: true },
  { name: `half.${process.ppid}`, is: 'of before the machine was started', goes: true, isOld: true },
  { name: 'half.txt', is: 'of somebody else', goes: false, isOld: true },
])('what is half done $is goes: $goes', async ({ name, goes, isOld }) => {
  const folder = temporaryFolder()
  mkdirSync(join(folder, name))
  writeFileSync(join(folder, name, 'sound'), 'half a sound')
  if (isOld === true) utimesSync(join(folder, name), 1_000_000_000, 1_000_000_000)
  await removeLeftBehind(folder, processIdOf)
  expect(readdirSync(folder)).toEqual(goes ? [] : [name])
})

test('a temporary folder is gone after its use, whatever came of that', async () => {
  let lent = ''
  const use = withTemporaryFolder(async (folder) => {
    lent = folder
    writeFileSync(join(folder, 'sound'), 'a sound')
    throw new RangeError('on purpose')
  })
  await expect(use).rejects.toThrow('on purpose')
  expect(() => readdirSync(lent)).toThrow('ENOENT')
})
