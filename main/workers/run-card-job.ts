import { Worker } from 'node:worker_threads'
import { Cancelled, fromReport } from '../../app/errors/app-error.ts'
import type { RunControl } from '../../app/ports/progress.ts'
import type { CardEvent, CardJob, CardResults, CardWorkerData } from './card-messages.ts'
import { WORKER_LIMITS } from '../adapters/worker-limits.ts'

/**
 * Runs one job in a worker of its own: writing or reading a card takes seconds, a worker starts in
 * hundredths of one. Resolves after the worker has ended.
 *
 * @throws what the job throws; Cancelled
 */
export async function runCardJob<K extends CardJob['kind']>(
  job: CardJob & { readonly kind: K },
  control: RunControl,
): Promise<CardResults[K]> {
  if (control.cancel.aborted) throw new Cancelled()
  const cancelFlag = new SharedArrayBuffer(4)
  const data: CardWorkerData = { job, cancelFlag }
  const worker = new Worker(new URL('./card.entry.ts', import.meta.url), {
    workerData: data,
    resourceLimits: WORKER_LIMITS,
  })
  const onAbort = (): void => {
    Atomics.store(new Int32Array(cancelFlag), 0, 1)
  }
  control.cancel.addEventListener('abort', onAbort)
  try {
    const result = (await outcomeOf(worker, control)) as CardResults[K]
    // The last pieces may be done before the worker sees the wish; it holds all the same.
    if (control.cancel.aborted) throw new Cancelled()
    return result
  } finally {
    control.cancel.removeEventListener('abort', onAbort)
  }
}

function outcomeOf(worker: Worker, control: RunControl): Promise<CardResults[CardJob['kind']]> {
  return new Promise((resolve, reject) => {
    let settle = (): void => reject(new Error('the card worker ended without an answer'))
    worker.on('message', (event: CardEvent) => {
      if (event.kind === 'progress') control.onProgress(event.progress)
      else if (event.kind === 'done') settle = () => resolve(event.result)
      else settle = () => reject(failure(event))
    })
    worker.on('error', (error) => {
      settle = () => reject(error)
    })
    worker.on('exit', () => settle())
  })
}

function failure(event: CardEvent & { kind: 'failed' }): Error {
  const error = fromReport(event.report)
  if (event.report.code === 'internal') error.cause = new Error(event.detail)
  return error
}
