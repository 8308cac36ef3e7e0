import { expect, test } from 'vitest'
import { openNamedLocks } from '../../main/adapters/db/open-named-locks.ts'
import type { Progress } from '../../app/ports/progress.ts'
import { startChild } from '../support/start-child.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

const clock = { now: () => '2026-11-25T11:00:00Z' }
const open = (folder: string) => openNamedLocks(folder, { who: 'this bench', clock })

test('a lock that another process holds is told with who, what for and since when', async () => {
  const folder = temporaryFolder()
  const other = startChild('hold-lock-child.ts', folder, 'scan /fonts')
  await other.says('held')
  await expect(open(folder).acquire('scan /fonts', 'scanning')).rejects.toMatchObject({
    code: 'lock/held',
    message: expect.stringMatching(
      /the other bench, scanning \(process \d+\) has been at it since 2026-11-25T10:00:00Z/,
    ),
  })
})

test('a lock frees itself when its process is killed', async () => {
  const folder = temporaryFolder()
  const other = startChild('hold-lock-child.ts', folder, 'scan /fonts')
  await other.says('held')
  other.process.kill('SIGKILL')
  await other.gone
  const lock = await open(folder).acquire('scan /fonts', 'scanning')
  await lock.release()
})

test('within one process too, a lock is held by one at a time, and free once released', async () => {
  const locks = open(temporaryFolder())
  const lock = await locks.acquire('scan /fonts', 'scanning')
  await expect(locks.acquire('scan /fonts', 'scanning again')).rejects.toMatchObject({ code: 'lock/held' })
  await lock.release()
  await lock.release()
  await (await locks.acquire('scan /fonts', 'scanning')).release()
})

test('an act that waits its turn tells for whom, and goes on as soon as the holder is gone', async () => {
  const folder = temporaryFolder()
  const other = startChild('hold-lock-child.ts', folder, 'prepare')
  await other.says('held')
  const told: Progress[] = []
  const lock = await open(folder).acquireInTurn('prepare', 'preparing', {
    cancel: new AbortController().signal,
    onProgress(progress) {
      told.push(progress)
      other.process.kill('SIGKILL')
    },
  })
  await lock.release()
  expect(told[0]).toMatchObject({
    phase: 'waiting for another Cardwright',
    current: expect.stringMatching(/^the other bench, scanning, process \d+$/),
  })
})

test('an act that waits its turn can be cancelled', async () => {
  const locks = open(temporaryFolder())
  const lock = await locks.acquire('prepare', 'preparing')
  const stop = new AbortController()
  const waiting = locks.acquireInTurn('prepare', 'preparing', {
    cancel: stop.signal,
    onProgress: () => stop.abort(),
  })
  await expect(waiting).rejects.toMatchObject({ code: 'cancelled' })
  await lock.release()
})

test.each([
  ['scan /fonts', 'scan /fonts2'],
  ['scan /Fonts', 'scan /fonts'],
  ['card K-0001', 'card K 0001'],
])('locks named %j and %j are different locks', async (one, other) => {
  const locks = open(temporaryFolder())
  const first = await locks.acquire(one, 'a')
  const second = await locks.acquire(other, 'b')
  await first.release()
  await second.release()
})

const control = { cancel: new AbortController().signal, onProgress: () => {} }

test('a lock that is shared is held by several, and by nobody alone until all have let go', async () => {
  const locks = open(temporaryFolder())
  const one = await locks.acquireShared('store', 'making a card', control)
  const two = await locks.acquireShared('store', 'making another', control)
  const alone = () => locks.acquire('store', 'releasing')
  await expect(alone()).rejects.toMatchObject({
    code: 'lock/held',
    message: expect.stringContaining('this bench, making another'),
  })
  await two.release()
  await expect(alone()).rejects.toMatchObject({ code: 'lock/held' })
  await one.release()
  await (await alone()).release()
})

test('who shares a lock waits for the one who holds it alone, in another process too', async () => {
  const folder = temporaryFolder()
  const other = startChild('hold-lock-child.ts', folder, 'store')
  await other.says('held')
  const told: Progress[] = []
  const lock = await open(folder).acquireShared('store', 'making a card', {
    ...control,
    onProgress(progress) {
      told.push(progress)
      other.process.kill('SIGKILL')
    },
  })
  expect(told[0]?.current).toMatch(/^the other bench, scanning, process \d+$/)
  const alone = startChild('hold-lock-child.ts', folder, 'store')
  await expect(alone.says('held')).rejects.toThrow('ended before')
  await lock.release()
})
