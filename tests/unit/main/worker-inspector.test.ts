import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { Cancelled } from '../../../app/errors/app-error.ts'
import type { SoundInspector } from '../../../app/ports/sound-inspector.ts'
import { openWorkerInspector, type InspectorOptions } from '../../../main/workers/worker-inspector.ts'
import { inspected } from '../../support/inspected.ts'
import { noise } from '../../support/signals.ts'
import { temporaryFolder } from '../../support/temporary-folder.ts'
import { wavFile } from '../../support/wav-bytes.ts'

const opened: SoundInspector[] = []
const open = (options?: InspectorOptions) => {
  const inspector = openWorkerInspector(options)
  opened.push(inspector)
  return inspector
}
afterEach(() => Promise.all(opened.splice(0).map((inspector) => inspector.close())))

const never = () => new AbortController().signal
const dyingEntry = new URL('../../support/dying-inspect-worker-child.ts', import.meta.url)

/** What each file came to, in the order of the files. */
async function codesOf(
  inspector: SoundInspector,
  paths: readonly string[],
  sizeBytes = 100,
): Promise<(string | undefined)[]> {
  const codes: (string | undefined)[] = []
  const counts: number[] = []
  await inspector.inspectFiles(
    paths.map((path) => ({ path, sizeBytes })),
    (index, { inspection }) => {
      codes[index] = inspection.problem?.code
      counts[index] = (counts[index] ?? 0) + 1
    },
    never(),
  )
  expect(counts).toEqual(paths.map(() => 1))
  return codes
}

test('files are read as the core reads them, each told once by its index, bad ones with their problem', async () => {
  const folder = temporaryFolder()
  const files = Array.from({ length: 70 }, (_, index) => wavFile([noise(index, 300 + index * 40)]))
  const paths = files.map((bytes, index) => {
    const path = join(folder, `${index}.wav`)
    writeFileSync(path, bytes)
    return path
  })
  const inspector = open()
  const results: unknown[] = []
  const list = [...paths, join(folder, 'missing.wav'), folder].map((path, index) => ({
    path,
    sizeBytes: index * 100,
  }))
  await inspector.inspectFiles(
    list,
    (index, { inspection, peaks }) => (results[index] = { inspection, peaks }),
    never(),
  )
  files.forEach((bytes, index) => {
    const { inspection, peaks } = inspected(bytes)
    expect(results[index]).toEqual({ inspection, peaks })
  })
  expect(results[70]).toMatchObject({ inspection: { problem: { code: 'file/missing' } } })
  expect(results[71]).toMatchObject({ inspection: { problem: { code: 'file/is-folder' } } })
})

test('bytes at hand are read too, and taken over', async () => {
  const bytes = wavFile([noise(3, 5000)])
  const { inspection } = inspected(bytes.slice())
  expect((await open().inspectBytes(bytes, 'font.zip/hum.wav', never())).inspection).toEqual(inspection)
})

test('a worker that dies is replaced, its file reported, and the others are read', async () => {
  const paths = ['a', 'dies-1', 'b', 'exits-2', 'c', 'dies-3']
  expect(await codesOf(open({ entry: dyingEntry }), paths)).toEqual([
    'answered',
    'inspect/worker-died',
    'answered',
    'inspect/worker-died',
    'answered',
    'inspect/worker-died',
  ])
})

test('a file that hangs is given up, and the others are read', async () => {
  const inspector = open({ entry: dyingEntry, hangAfterMs: 1500 })
  expect(await codesOf(inspector, ['a', 'hangs', 'b'])).toEqual(['answered', 'inspect/hung', 'answered'])
})

test('cancelling ends work that runs and work that waits, and tells no more files', async () => {
  const inspector = open({ entry: dyingEntry })
  const stop = new AbortController()
  const told: number[] = []
  const files = Array.from({ length: 100 }, (_, index) => ({
    path: index === 40 ? 'hangs' : `f${index}`,
    sizeBytes: 1,
  }))
  const run = inspector.inspectFiles(
    files,
    (index) => {
      told.push(index)
      if (index === 39) stop.abort()
    },
    stop.signal,
  )
  await expect(run).rejects.toBeInstanceOf(Cancelled)
  const soFar = told.length
  expect(await codesOf(inspector, ['after'])).toEqual(['answered'])
  expect(told.length).toBe(soFar)
})

test('a fault of whoever listens reaches the caller', async () => {
  const run = open({ entry: dyingEntry }).inspectFiles(
    [{ path: 'a', sizeBytes: 1 }],
    () => {
      throw new RangeError('the listener')
    },
    never(),
  )
  await expect(run).rejects.toThrow('the listener')
})
