import { useState } from 'react'
import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import type { JobProgress, LongCallName } from '../../app/contract/door.ts'
import { fromReport, type AppError } from '../../app/errors/app-error.ts'
import { start } from '../client/client.ts'
import { asAppError } from './loaded.ts'
import { useJobs } from './use-jobs.ts'

export type LongCall<C extends LongCallName> =
  | { readonly state: 'idle' }
  | { readonly state: 'running'; readonly progress: JobProgress | null; cancel(): void }
  | { readonly state: 'failed'; readonly error: AppError }
  | { readonly state: 'done'; readonly value: ResponseOf<C> }

/** One long call of a view, from start to end; `start` again begins anew. */
export function useLongCall<C extends LongCallName>(
  call: C,
): { readonly now: LongCall<C>; start(request: RequestOf<C>): void; reset(): void } {
  const [jobId, setJobId] = useState<string | null>(null)
  const [refused, setRefused] = useState<AppError | null>(null)
  const { jobs, cancel } = useJobs()
  const job = jobs.find((each) => each.jobId === jobId)

  return {
    now: refused === null ? nowOf() : { state: 'failed', error: refused },
    start(request) {
      setRefused(null)
      start(call, request).then(setJobId, (thrown: unknown) => setRefused(asAppError(thrown)))
    },
    reset() {
      setRefused(null)
      setJobId(null)
    },
  }

  function nowOf(): LongCall<C> {
    if (jobId === null || job === undefined) return { state: 'idle' }
    if (job.state === 'running') {
      return { state: 'running', progress: job.progress, cancel: () => cancel(jobId) }
    }
    if (job.error !== null) {
      const { kind, ...report } = job.error
      return { state: 'failed', error: fromReport(kind === undefined ? report : { ...report, kind }) }
    }
    return { state: 'done', value: job.value as ResponseOf<C> }
  }
}
