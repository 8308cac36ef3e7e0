import { useState } from 'react'
import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import type { JobProgress } from '../../app/contract/door.ts'
import type { AppError } from '../../app/errors/app-error.ts'
import { useLongCall } from './use-long-call.ts'

export type PrepareRequest = RequestOf<'prepare'>
export type PrepareReport = ResponseOf<'prepare'>
export type PreparedFontRow = PrepareReport['fonts'][number]
export type PreparedSoundRow = PreparedFontRow['sounds'][number]

export interface Preparing {
  /** The last that came; it stays while the next run is under way. */
  readonly report: PrepareReport | null
  readonly running: { readonly progress: JobProgress | null; cancel(): void } | null
  readonly error: AppError | null
  start(request: PrepareRequest): void
  /** What was told no longer fits what is asked for. */
  forget(): void
}

/** Runs and dry runs of preparing the same fonts. @param key names them; the window finds the run again by it */
export function usePreparing(key: string): Preparing {
  const call = useLongCall('prepare', `cardwright-prepare ${key}`)
  const [earlier, setEarlier] = useState<PrepareReport | null>(null)
  const { now } = call
  const newest = now.state === 'done' ? now.value : null
  return {
    report: newest ?? earlier,
    running: now.state === 'running' ? { progress: now.progress, cancel: now.cancel } : null,
    error: now.state === 'failed' ? now.error : null,
    start(request) {
      if (newest !== null) setEarlier(newest)
      call.start(request)
    },
    forget() {
      setEarlier(null)
      call.reset()
    },
  }
}
