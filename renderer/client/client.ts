import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import type {
  Answer,
  AskName,
  AskRequest,
  AskResponse,
  Channel,
  Job,
  LongCallName,
  Started,
} from '../../app/contract/door.ts'
import { fromReport, type ErrorReport, type ExitKind } from '../../app/errors/app-error.ts'
import { desktopDoor } from './desktop-door.ts'
import { httpDoor } from './http-door.ts'

const door = desktopDoor() ?? httpDoor()

/**
 * Asks the core, or the door itself.
 * @throws AppError as the core threw it.
 */
export async function ask<C extends AskName>(call: C, request: AskRequest<C>): Promise<AskResponse<C>> {
  return valueOf(await door.send(call, request)) as AskResponse<C>
}

/** Starts a long call. @returns its job's id, whose events follow. */
export async function start<C extends LongCallName>(call: C, request: RequestOf<C>): Promise<string> {
  return (valueOf(await door.send(call as Channel, request)) as Started).jobId
}

/** Starts a long call and waits for its end. @throws AppError; Cancelled where it was cancelled. */
export async function run<C extends LongCallName>(call: C, request: RequestOf<C>): Promise<ResponseOf<C>> {
  return outcomeOf(await ended(await start(call, request))) as ResponseOf<C>
}

/**
 * The same for what the window asks by itself, time and again: its job is off the list once it has ended,
 * since nobody looks for its outcome there.
 */
export async function runUnlisted<C extends LongCallName>(
  call: C,
  request: RequestOf<C>,
): Promise<ResponseOf<C>> {
  const job = await ended(await start(call, request))
  // A door that is gone meanwhile keeps no list either.
  dismissJob(job.jobId).catch(() => undefined)
  return outcomeOf(job) as ResponseOf<C>
}

function outcomeOf(job: Job): unknown {
  if (job.error !== null) throw fromReport(reportOf(job.error))
  return job.value
}

type SentReport = Omit<ErrorReport, 'kind'> & { readonly kind?: ExitKind | undefined }

function reportOf({ kind, ...report }: SentReport): ErrorReport & { kind?: ExitKind } {
  return kind === undefined ? report : { ...report, kind }
}

function valueOf(answer: Answer): unknown {
  if (answer.ok) return answer.value
  throw fromReport(reportOf(answer.error))
}

/** Jobs by id, as last told, oldest first. */
let jobs: readonly Job[] = []
const listeners = new Set<(job: Job | null) => void>()

function take(job: Job): void {
  const known = jobs.some(({ jobId }) => jobId === job.jobId)
  jobs = known ? jobs.map((each) => (each.jobId === job.jobId ? job : each)) : [...jobs, job]
  for (const listener of listeners) listener(job)
}

/** Jobs as last told: a new list at every change, the same one between. */
export function currentJobs(): readonly Job[] {
  return jobs
}

/** Tells every change of a job; null where one was taken off the list. */
export function onJob(listener: (job: Job | null) => void): () => void {
  listeners.add(listener)
  return () => void listeners.delete(listener)
}

const changeListeners = new Set<() => void>()

/** Calls back when another process changed the workshop: what was asked for may be otherwise now. */
export function onWorkshopChanged(listener: () => void): () => void {
  changeListeners.add(listener)
  return () => void changeListeners.delete(listener)
}

/** Listens to the door and takes up what already runs, so that a reload loses no job. */
export async function openJobs(): Promise<void> {
  door.listen({ job: take, changed: () => changeListeners.forEach((listener) => listener()) })
  const { jobs: running } = await ask('jobs:list', {})
  for (const job of running) take(job)
}

export async function cancelJob(jobId: string): Promise<void> {
  await ask('jobs:cancel', { jobId })
}

export async function dismissJob(jobId: string): Promise<void> {
  jobs = jobs.filter((job) => job.jobId !== jobId)
  for (const listener of listeners) listener(null)
  await ask('jobs:dismiss', { jobId })
}

async function ended(jobId: string): Promise<Job> {
  const isEnd = (job: Job | null) => job?.jobId === jobId && job.state !== 'running'
  const listed = await new Promise<Job>((resolve) => {
    const stop = onJob((job) => {
      if (job === null || !isEnd(job)) return
      stop()
      resolve(job)
    })
    // It may have ended before anybody listened.
    const early = jobs.find(isEnd)
    if (early === undefined) return
    stop()
    resolve(early)
  })
  return listed
}

export function soundAddress(soundId: string, preparedForBoardId?: string): string {
  return door.soundAddress(soundId, preparedForBoardId)
}

/**
 * All bytes of a sound, as it came or as it was prepared for a board.
 * @throws AppError `sound/gone`, `sound/not-prepared` and others, as the door says
 */
export async function soundBytes(soundId: string, preparedForBoardId?: string): Promise<ArrayBuffer> {
  const response = await fetch(door.soundAddress(soundId, preparedForBoardId))
  if (response.ok) return response.arrayBuffer()
  valueOf((await response.json()) as Answer)
  throw new TypeError('A refusal that tells no cause.')
}
