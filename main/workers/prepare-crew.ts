import { Worker } from 'node:worker_threads'
import { Cancelled, type ErrorReport } from '../../app/errors/app-error.ts'
import type { AbortLike } from '../../app/ports/progress.ts'
import type { PrepareAnswer, PrepareCancel, PrepareJob, PrepareWorkerData } from './prepare-messages.ts'
import { WORKER_LIMITS } from '../adapters/worker-limits.ts'

/** Work for one worker: several things, by their index in the whole. */
export interface Batch {
  readonly sizeBytes: number
  readonly indexes: readonly number[]
}

export interface CrewOrders {
  readonly size: number
  readonly entry: URL
  /** Each worker gets a folder of its own in it. */
  readonly scratchFolder: string
  /** A batch that takes longer than this, and a second a mebibyte, is given up. */
  readonly hangAfterMs: number
  jobOf(id: number, indexes: readonly number[]): PrepareJob
  /** Answers are heard one after the other; the next batch waits until the last is done with. */
  hear(index: number, answer: PrepareAnswer): Promise<void>
  lose(index: number, why: ErrorReport): Promise<void>
}

/**
 * Has batches worked off. A worker that dies or hangs is replaced; what it had in hand is tried again
 * one by one, and what ends a worker alone is lost. On cancelling, workers are asked to end what they
 * do (ffmpeg included) and clean up.
 * @throws Cancelled, and what `hear` throws
 */
export async function workOff(
  batches: readonly Batch[],
  orders: CrewOrders,
  cancel: AbortLike,
): Promise<void> {
  if (cancel.aborted) throw new Cancelled()
  const queue = [...batches]
  const cancelFlag = new SharedArrayBuffer(4)
  const lanes = Array.from({ length: Math.min(orders.size, queue.length) }, (_, index) => {
    return new Lane(orders, { scratchFolder: `${orders.scratchFolder}/${index}`, cancelFlag })
  })
  const stop = () => {
    queue.length = 0
    Atomics.store(new Int32Array(cancelFlag), 0, 1)
    for (const lane of lanes) lane.cancel()
  }
  cancel.addEventListener('abort', stop)
  try {
    const ends = await Promise.allSettled(
      lanes.map((lane) =>
        lane.workOff(queue).catch((error: unknown) => {
          stop()
          throw error
        }),
      ),
    )
    const failed = ends.find((end) => end.status === 'rejected')
    if (failed !== undefined) throw failed.reason
    if (cancel.aborted) throw new Cancelled()
  } finally {
    cancel.removeEventListener('abort', stop)
    await Promise.all(lanes.map((lane) => lane.end()))
  }
}

/** One worker and its replacements. */
class Lane {
  readonly #orders: CrewOrders
  readonly #data: PrepareWorkerData
  #worker: Worker | undefined
  #jobId = 0

  constructor(orders: CrewOrders, data: PrepareWorkerData) {
    this.#orders = orders
    this.#data = data
  }

  async workOff(queue: Batch[]): Promise<void> {
    for (let batch = queue.shift(); batch !== undefined; batch = queue.shift()) {
      const left = await this.#work(batch)
      if (left === undefined) continue
      const [index] = left.indexes
      if (left.indexes.length === 1 && index !== undefined) await this.#orders.lose(index, left.why)
      else {
        const sizeBytes = batch.sizeBytes / batch.indexes.length
        queue.unshift(...left.indexes.map((each) => ({ sizeBytes, indexes: [each] })))
      }
    }
  }

  cancel(): void {
    this.#worker?.postMessage({ type: 'cancel' } satisfies PrepareCancel)
  }

  async end(): Promise<void> {
    const worker = this.#worker
    this.#worker = undefined
    await worker?.terminate()
  }

  #start(): Worker {
    const worker = new Worker(this.#orders.entry, { workerData: this.#data, resourceLimits: WORKER_LIMITS })
    // Heard while it works; a worker that fails while it rests must not end the process.
    worker.on('error', () => undefined)
    return worker
  }

  /** @returns what was left undone where the worker was lost */
  async #work(batch: Batch): Promise<{ indexes: readonly number[]; why: ErrorReport } | undefined> {
    const worker = (this.#worker ??= this.#start())
    const id = ++this.#jobId
    const heard = new Set<number>()
    let hearing = Promise.resolve()
    const why = await new Promise<ErrorReport | undefined>((resolve) => {
      const settle = (reason: ErrorReport | undefined) => {
        clearTimeout(limit)
        worker.off('message', onMessage).off('error', onDeath).off('exit', onDeath)
        resolve(reason)
      }
      const limit = setTimeout(
        () => settle(lost('prepare/hung', 'took far too long and was given up')),
        this.#orders.hangAfterMs + batch.sizeBytes / 1024,
      )
      const onDeath = () => settle(lost('prepare/worker-died', 'ended the worker that did it'))
      const onMessage = (answer: PrepareAnswer) => {
        if (answer.id !== id) return
        if ('finished' in answer) return settle(undefined)
        const index = batch.indexes[answer.place]
        if (index === undefined) return
        heard.add(index)
        hearing = hearing.then(() => this.#orders.hear(index, answer))
        hearing.catch(() => settle(undefined))
      }
      worker.on('message', onMessage).on('error', onDeath).on('exit', onDeath)
      worker.postMessage(this.#orders.jobOf(id, batch.indexes))
    })
    await hearing
    if (why === undefined) return undefined
    // A worker that has hung is still at it.
    await this.end()
    return { indexes: batch.indexes.filter((index) => !heard.has(index)), why }
  }
}

function lost(code: string, how: string): ErrorReport {
  return {
    code,
    what: `Preparing this sound ${how}.`,
    where: '',
    mend: 'The others went on; report it, and leave this sound out meanwhile.',
  }
}
