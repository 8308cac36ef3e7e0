import { useState } from 'react'
import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import type { JobProgress, LongCallName } from '../../app/contract/door.ts'
import { fromReport, type AppError } from '../../app/errors/app-error.ts'
import { cancelJob, dismissJob, start } from '../client/client.ts'
import { asAppError } from './loaded.ts'
import { useJob } from './use-jobs.ts'
import { keepUnder } from './use-kept.ts'

export type LongCall<C extends LongCallName> =
  | { readonly state: 'idle' }
  | { readonly state: 'running'; readonly progress: JobProgress | null; cancel(): void }
  | { readonly state: 'failed'; readonly error: AppError }
  | { readonly state: 'done'; readonly value: ResponseOf<C> }

/**
 * One long call of a view, from start to end; `start` again begins anew.
 * @param rememberedAs finds it again, as long as its job is listed, when the view is opened anew
 */
export function useLongCall<C extends LongCallName>(
  call: C,
  rememberedAs?: string,
): { readonly now: LongCall<C>; start(request: RequestOf<C>): void; reset(): void } {
  const [jobId, setJobId] = useState(() => rememberedJob(rememberedAs))
  const [refused, setRefused] = useState<AppError | null>(null)
  const job = useJob(jobId)

  return {
    now: refused === null ? nowOf() : { state: 'failed', error: refused },
    start(request) {
      setRefused(null)
      void begin(request)
    },
    reset() {
      setRefused(null)
      remember(rememberedAs, null)
      setJobId(null)
    },
  }

  async function begin(request: RequestOf<C>): Promise<void> {
    try {
      const begun = await start(call, request)
      // What is remembered is the latest alone; an earlier outcome would only take room.
      if (rememberedAs !== undefined && job !== undefined && job.state !== 'running')
        void dismissJob(job.jobId)
      remember(rememberedAs, begun)
      setJobId(begun)
    } catch (thrown) {
      setRefused(asAppError(thrown))
    }
  }

  function nowOf(): LongCall<C> {
    if (jobId === null || job === undefined) return { state: 'idle' }
    if (job.state === 'running') {
      return { state: 'running', progress: job.progress, cancel: () => void cancelJob(jobId) }
    }
    if (job.error !== null) {
      const { kind, ...report } = job.error
      return { state: 'failed', error: fromReport(kind === undefined ? report : { ...report, kind }) }
    }
    return { state: 'done', value: job.value as ResponseOf<C> }
  }
}

function rememberedJob(name: string | undefined): string | null {
  return name === undefined ? null : sessionStorage.getItem(name)
}

function remember(name: string | undefined, jobId: string | null): void {
  if (name === undefined) return
  if (jobId === null) sessionStorage.removeItem(name)
  else keepUnder(name, jobId)
}
