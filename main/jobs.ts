import type { CallName } from '../app/contract/calls.ts'
import type { Answer, Job } from '../app/contract/door.ts'
import type { RunControl } from '../app/ports/progress.ts'
import { timeLeftReckoner } from './time-left.ts'

/** Ended jobs are kept for a window that was reloaded meanwhile; older ones make room. */
const MOST_ENDED = 20
/** A window redraws no faster than this; the first and last word of a phase always go out. */
const TOLD_EVERY_MS = 100

export interface JobsOptions {
  readonly nowMs: () => number
  readonly newJobId: () => string
}

/** Long calls under way, each with its progress and a way to cancel it. */
export interface Jobs {
  start(call: CallName, about: string, work: (control: RunControl) => Promise<Answer>): string
  list(): readonly Job[]
  /** @returns whether it was still running. */
  cancel(jobId: string): boolean
  dismiss(jobId: string): void
  onJob(listener: (job: Job) => void): () => void
  /** Cancels all and waits for their end. */
  close(): Promise<void>
}

export function openJobs({ nowMs, newJobId }: JobsOptions): Jobs {
  const jobs = new Map<string, Job>()
  const running = new Map<string, { readonly controller: AbortController; readonly ended: Promise<void> }>()
  const listeners = new Set<(job: Job) => void>()

  function tell(job: Job): void {
    jobs.set(job.jobId, job)
    for (const listener of listeners) listener(job)
  }

  function makeRoom(): void {
    const ended = [...jobs.values()].filter((job) => job.state !== 'running')
    for (const job of ended.slice(0, Math.max(0, ended.length - MOST_ENDED))) jobs.delete(job.jobId)
  }

  return {
    start(call, about, work) {
      const jobId = newJobId()
      const controller = new AbortController()
      const fresh: Job = { jobId, call, about, state: 'running', progress: null, value: null, error: null }
      tell(fresh)
      const secondsLeft = timeLeftReckoner()
      let latest = fresh
      let toldAtMs = -Infinity
      const onProgress: RunControl['onProgress'] = (progress) => {
        const now = nowMs()
        const left = secondsLeft(progress, now)
        const isNewPhase = progress.phase !== latest.progress?.phase
        latest = { ...latest, progress: { ...progress, secondsLeft: left } }
        jobs.set(jobId, latest)
        if (!isNewPhase && progress.done !== progress.total && now - toldAtMs < TOLD_EVERY_MS) return
        toldAtMs = now
        tell(latest)
      }
      async function runToItsEnd(): Promise<void> {
        const answer = await work({ onProgress, cancel: controller.signal })
        running.delete(jobId)
        tell(endedJob(latest, answer))
        makeRoom()
      }
      const ended = Promise.resolve().then(runToItsEnd)
      running.set(jobId, { controller, ended })
      return jobId
    },
    list: () => [...jobs.values()],
    cancel(jobId) {
      const job = running.get(jobId)
      job?.controller.abort()
      return job !== undefined
    },
    dismiss(jobId) {
      if (!running.has(jobId)) jobs.delete(jobId)
    },
    onJob(listener) {
      listeners.add(listener)
      return () => void listeners.delete(listener)
    },
    async close() {
      const all = [...running.values()]
      for (const { controller } of all) controller.abort()
      await Promise.all(all.map(({ ended }) => ended))
    },
  }
}

function endedJob(job: Job, answer: Answer): Job {
  if (answer.ok) return { ...job, state: 'done', value: answer.value }
  const state = answer.error.code === 'cancelled' ? 'cancelled' : 'failed'
  return { ...job, state, error: answer.error }
}
