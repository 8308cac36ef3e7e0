import { spawnSync } from 'node:child_process'
import { mkdirSync, readdirSync, utimesSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { Worker } from 'node:worker_threads'
import { afterEach, expect, test, vi } from 'vitest'
import { removeLeftBehind } from '../../../main/adapters/files/left-behind.ts'
import { removeLeftovers, writeAtomically } from '../../../main/adapters/files/atomic-write.ts'
import { OWN_MARK } from '../../../main/adapters/files/process-mark.ts'
import { withTemporaryFolder } from '../../../main/adapters/files/temporary-folder.ts'
import { processStart } from '../../../main/adapters/files/process-start.ts'
import { temporaryFolder } from '../../support/temporary-folder.ts'

const gone = spawnSync(process.execPath, ['--version']).pid
const processIdOf = (name: string) =>
  Number(/^half\.(\d+)(?:_[0-9a-f]{16}(?:_\d+)?)?$/.exec(name)?.[1] ?? NaN)

test.each([
  { name: `half.${gone}`, is: 'of a process that is gone', goes: true },
  { name: `half.${process.pid}`, is: 'of this process', goes: false },
  { name: `half.${process.ppid}`, is: 'of another that runs', goes: false },
  { name: `half.${process.pid}`, is: 'of an earlier process of the same number', goes: true, isOld: true },
  { name: `half.${process.ppid}`, is: 'of before the machine was started', goes: true, isOld: true },
  {
    name: `half.${OWN_MARK}`,
    is: 'of this very process, before a clock was put forward',
    goes: false,
    isOld: true,
  },
  {
    name: `half.${process.pid}_0123456789abcdef`,
    is: 'of an earlier process of the same number, with its mark',
    goes: true,
    isOld: true,
  },
  ...(processStart(process.pid) === null
    ? []
    : [
        {
          name: `half.${process.ppid}_0123456789abcdef_${processStart(process.ppid)}`,
          is: 'of another that runs, with its mark',
          goes: false,
        },
        {
          name: `half.${process.ppid}_0123456789abcdef_1`,
          is: 'of one that had the number of another that runs, a moment ago',
          goes: true,
        },
        {
          name: `half.${process.pid}_0123456789abcdef_1`,
          is: 'of one that had the number of this process, a moment ago',
          goes: true,
        },
      ]),
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

afterEach(() => void vi.restoreAllMocks())

test('a clock that is put forward by a day makes nothing look left behind', async () => {
  const folder = temporaryFolder()
  const names = [`half.${process.pid}`, `half.${process.ppid}`]
  for (const name of names) writeFileSync(join(folder, name), 'half a sound')
  const ahead = Date.now() + 86_400_000
  vi.spyOn(Date, 'now').mockReturnValue(ahead)
  await removeLeftBehind(folder, processIdOf)
  expect(readdirSync(folder).toSorted()).toEqual(names.toSorted())
})

test('a file that is being written is left alone by the same process, whatever the clock said at its start', async () => {
  const folder = temporaryFolder()
  await writeAtomically(join(folder, 'sound'), async (handle) => {
    await handle.writeFile('a sound')
    for (const name of readdirSync(folder)) utimesSync(join(folder, name), 1_000_000_000, 1_000_000_000)
    await removeLeftovers(folder)
  })
  expect(readdirSync(folder)).toEqual(['sound'])
})

test('threads of a process have its mark', async () => {
  const module = new URL('../../../main/adapters/files/process-mark.ts', import.meta.url).href
  const worker = new Worker(
    `import(${JSON.stringify(module)}).then(({ OWN_MARK }) => require('node:worker_threads').parentPort.postMessage(OWN_MARK))`,
    { eval: true },
  )
  const mark = await new Promise<unknown>((resolve, reject) =>
    worker.on('message', resolve).on('error', reject),
  )
  await worker.terminate()
  expect(mark).toBe(OWN_MARK)
})
