import { afterEach, expect, test, vi } from 'vitest'
import type { Core } from '../../../app/contract/core.ts'
import type { Job } from '../../../app/contract/door.ts'
import { AppError, Cancelled } from '../../../app/errors/app-error.ts'
import { openAnswers, type Answers } from '../../../main/answer.ts'
import { coreDouble, SCANNED, STATUS } from '../../support/core-double.ts'

const onFault = vi.fn()
let answers: Answers | undefined
afterEach(async () => {
  await answers?.close()
  onFault.mockClear()
})

function open(core: Partial<Core>, nowMs = () => 0): Answers {
  let count = 0
  answers = openAnswers(coreDouble(core), {
    abilities: {
      about: { door: 'loopback', choosesPaths: false, playsSounds: false },
      choosePath: () => Promise.resolve('/chosen'),
      listFolder: () => Promise.reject(new TypeError('no folder is listed here')),
    },
    onFault,
    nowMs,
    newJobId: () => `job-${++count}`,
  })
  return answers
}

/** Resolves with the job once it is in the state. */
function jobIn(state: Job['state'], from: Answers): Promise<Job> {
  return new Promise((resolve) => {
    const stop = from.onJob((job) => {
      if (job.state !== state) return
      stop()
      resolve(job)
    })
  })
}

test('a request that fits is answered with what the core says', async () => {
  const { send } = open({ 'workshop:status': () => Promise.resolve(STATUS) })
  expect(await send('workshop:status', {})).toEqual({ ok: true, value: STATUS })
})

test.each([
  { name: 'an unknown call', channel: 'workshop:burn', request: {}, code: 'request/unknown' },
  { name: 'a call named by no text', channel: { toString: 'scan' }, request: {}, code: 'request/unknown' },
  { name: 'a name from the prototype', channel: 'constructor', request: {}, code: 'request/unknown' },
  { name: 'a key too many', channel: 'fonts:list', request: { folder: '/etc' }, code: 'request/unfit' },
  { name: 'a missing value', channel: 'fonts:show', request: {}, code: 'request/unfit' },
  { name: 'no request at all', channel: 'scan', request: undefined, code: 'request/unfit' },
  { name: 'a wrong request to the door itself', channel: 'jobs:cancel', request: 3, code: 'request/unfit' },
])('$name is refused by its code, and the core is not asked', async ({ channel, request, code }) => {
  const { send } = open({})
  expect(await send(channel, request)).toMatchObject({ ok: false, error: { code } })
  expect(onFault).not.toHaveBeenCalled()
})

test('what the user can mend crosses as its report', async () => {
  const told = { code: 'roots/gone', what: 'It is gone.', where: '/fonts', mend: 'Plug the drive in.' }
  const { send } = open({ 'roots:list': () => Promise.reject(new AppError({ ...told, kind: 'machine' })) })
  expect(await send('roots:list', {})).toEqual({ ok: false, error: { ...told, kind: 'machine' } })
  expect(onFault).not.toHaveBeenCalled()
})

test('a bug crosses without its inner words, and is told to the log', async () => {
  const bug = new RangeError('secret detail')
  const { send } = open({ 'roots:list': () => Promise.reject(bug) })
  const answer = await send('roots:list', {})
  expect(answer).toMatchObject({ ok: false, error: { code: 'internal' } })
  expect(JSON.stringify(answer)).not.toContain('secret')
  expect(onFault).toHaveBeenCalledWith(bug)
})

test('an answer that misses the contract does not reach the window as data', async () => {
  const { send } = open({
    'workshop:status': () => Promise.resolve({ ...STATUS, fontCount: 'many' as never }),
  })
  expect(await send('workshop:status', {})).toMatchObject({ ok: false, error: { code: 'internal' } })
  expect(onFault).toHaveBeenCalledTimes(1)
})

test('a long call is answered at once, then tells its progress and its value', async () => {
  let finish = (): void => undefined
  const waiting = new Promise<void>((resolve) => (finish = resolve))
  const from = open({
    async scan(_request, { onProgress }) {
      onProgress({ phase: 'reading', done: 1, total: 4, unit: 'files', current: 'hum.wav' })
      await waiting
      return SCANNED
    },
  })
  const told: Job[] = []
  from.onJob((job) => void told.push(job))
  expect(await from.send('scan', { paths: ['/fonts'] })).toEqual({ ok: true, value: { jobId: 'job-1' } })
  const done = jobIn('done', from)
  finish()
  expect(await done).toMatchObject({ call: 'scan', about: '/fonts', value: SCANNED, error: null })
  expect(told.map((job) => job.progress?.done ?? null)).toEqual([null, 1, 1])
  expect(await from.send('jobs:list', {})).toMatchObject({ value: { jobs: [{ state: 'done' }] } })
  await from.send('jobs:dismiss', { jobId: 'job-1' })
  expect(await from.send('jobs:list', {})).toMatchObject({ value: { jobs: [] } })
})

test('the time left is reckoned from the pace so far, and not guessed in the first two seconds', async () => {
  let now = 0
  const step = (done: number) => ({
    phase: 'reading',
    done,
    total: 10,
    unit: 'files' as const,
    current: null,
  })
  const from = open(
    {
      scan(_request, { onProgress }) {
        onProgress(step(0))
        now = 1000
        onProgress(step(2))
        now = 4000
        onProgress(step(4))
        return Promise.resolve(SCANNED)
      },
    },
    () => now,
  )
  const told: (number | null)[] = []
  from.onJob(({ progress }) => void (progress !== null && told.push(progress.secondsLeft)))
  const done = jobIn('done', from)
  await from.send('scan', { paths: ['/fonts'] })
  await done
  expect(told).toEqual([null, null, 6, 6])
})

test('cancelling reaches the core, and the job ends as cancelled', async () => {
  const from = open({
    scan: (_request, { cancel }) =>
      new Promise((_, reject) => cancel.addEventListener('abort', () => reject(new Cancelled()))),
  })
  await from.send('scan', { paths: ['/fonts'] })
  const cancelled = jobIn('cancelled', from)
  expect(await from.send('jobs:cancel', { jobId: 'job-1' })).toEqual({
    ok: true,
    value: { wasRunning: true },
  })
  expect(await cancelled).toMatchObject({ error: { code: 'cancelled' } })
  expect(await from.send('jobs:cancel', { jobId: 'job-1' })).toEqual({
    ok: true,
    value: { wasRunning: false },
  })
})

test('a job that fails keeps its report', async () => {
  const from = open({
    verify: () =>
      Promise.reject(new AppError({ code: 'card/gone', what: 'Gone.', where: 'K', mend: 'Look.' })),
  })
  const failed = jobIn('failed', from)
  await from.send('verify', { target: 'card.img' })
  expect(await failed).toMatchObject({ about: 'card.img', error: { code: 'card/gone' }, value: null })
})

test.each([
  { call: 'check:card', request: { from: '/card', boardId: 'bench-44' }, about: '/card' },
  { call: 'boards:draft', request: { from: '/card', boardId: 'b', title: 'B', keep: true }, about: '/card' },
  { call: 'boards:learn', request: { boardId: 'mine', heard: ['a.wav'], silent: [] }, about: 'mine' },
  {
    call: 'check:report',
    request: { boardId: 'bench-44', editionIds: ['a'], reportPath: 'page.html' },
    about: 'page.html',
  },
])('$call is told as being about $about', async ({ call, request, about }) => {
  const fails = () =>
    Promise.reject(new AppError({ code: 'observe/unreadable', what: 'Gone.', where: '', mend: 'Look.' }))
  const from = open({ [call]: fails })
  const failed = jobIn('failed', from)
  await from.send(call, request)
  expect(await failed).toMatchObject({ call, about })
})

test.each([
  { request: { buildCode: 'EX-1' }, about: 'EX-1' },
  { request: { boardId: 'bench-44', editionIds: ['a'] }, about: '1 font' },
  { request: { boardId: 'bench-44', editionIds: ['a', 'b'], dryRun: true }, about: '2 fonts, dry run' },
])('preparing $about is told as that', async ({ request, about }) => {
  const from = open({
    prepare: () =>
      Promise.reject(new AppError({ code: 'lock/held', what: 'Held.', where: '', mend: 'Wait.' })),
  })
  const failed = jobIn('failed', from)
  await from.send('prepare', request)
  expect(await failed).toMatchObject({ call: 'prepare', about })
})

test('writing to a drive is told by where it goes', async () => {
  const from = open({
    'contents:remake-into': () =>
      Promise.reject(new AppError({ code: 'target/gone', what: 'Gone.', where: '/media/card', mend: '' })),
  })
  const failed = jobIn('failed', from)
  await from.send('contents:remake-into', { content: '0123456789', into: '/media/card' })
  expect(await failed).toMatchObject({ about: '/media/card' })
})

test('a password never shows in the list of jobs', async () => {
  const from = open({ scan: () => Promise.resolve(SCANNED) })
  const done = jobIn('done', from)
  await from.send('scan', { paths: ['a.zip'], passwords: { 'a.zip': 'hush-hush' } })
  expect(JSON.stringify(await done)).not.toContain('hush')
})

test('closing cancels what runs and waits for its end', async () => {
  const ended = vi.fn()
  const from = open({
    scan: (_request, { cancel }) =>
      new Promise((_, reject) => cancel.addEventListener('abort', () => reject(new Cancelled()))),
  })
  from.onJob((job) => void (job.state === 'cancelled' && ended()))
  await from.send('scan', { paths: ['/fonts'] })
  await from.close()
  expect(ended).toHaveBeenCalledTimes(1)
})
