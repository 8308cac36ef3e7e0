import { Cancelled, type ErrorReport } from '../../app/errors/app-error.ts'
import type { AbortLike } from '../../app/ports/progress.ts'
import type { PrepareAnswer, PrepareJob } from './prepare-messages.ts'
import type { PreparingWorker, RestingWorkers } from './resting-workers.ts'

/** Work for one worker: several things, by their index in the whole. */
export interface Batch {
  readonly sizeBytes: number
  readonly indexes: readonly number[]
}

export interface CrewOrders {
  readonly size: number
  readonly workers: RestingWorkers
  /** Of this run alone. Each worker gets a folder of its own in it. */
  readonly scratchFolder: string
  /** A batch that takes longer than this, and a second a mebibyte, is given up. */
  readonly hangAfterMs: number
  jobOf(indexes: readonly number[], common: Pick<PrepareJob, 'id' | 'scratchFolder'>): PrepareJob
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
  const lanes = Array.from({ length: Math.min(orders.size, queue.length) }, (_, index) => {
    return new Lane(orders, `${orders.scratchFolder}/${index}`)
  })
  const stop = () => {
    queue.length = 0
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
    await Promise.all(lanes.map((lane) => lane.rest()))
  }
}

/** Told apart by their answers, of which a worker that was lost may have left some on the way. */
let lastJobId = 0

/** One worker and its replacements. */
class Lane {
  readonly #orders: CrewOrders
  readonly #scratchFolder: string
  #worker: PreparingWorker | undefined

  constructor(orders: CrewOrders, scratchFolder: string) {
    this.#orders = orders
    this.#scratchFolder = scratchFolder
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
    this.#worker?.cancel()
  }

  /** Leaves the worker for the next run, where it can still be used. */
  async rest(): Promise<void> {
    const worker = this.#worker
    if (worker === undefined || worker.isCancelled) return this.#end()
    this.#worker = undefined
    this.#orders.workers.rest(worker)
  }

  async #end(): Promise<void> {
    const worker = this.#worker
    this.#worker = undefined
    await worker?.thread.terminate()
  }

  /** @returns what was left undone where the worker was lost */
  async #work(batch: Batch): Promise<{ indexes: readonly number[]; why: ErrorReport } | undefined> {
    const worker = (this.#worker ??= this.#orders.workers.take())
    const { thread } = worker
    const id = ++lastJobId
    const heard = new Set<number>()
    let hearing = Promise.resolve()
    const why = await new Promise<ErrorReport | undefined>((resolve) => {
      const settle = (reason: ErrorReport | undefined) => {
        clearTimeout(limit)
        thread.off('message', onMessage).off('error', onDeath).off('exit', onDeath)
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
      thread.on('message', onMessage).on('error', onDeath).on('exit', onDeath)
      worker.do(this.#orders.jobOf(batch.indexes, { id, scratchFolder: this.#scratchFolder }))
    })
    await hearing
    if (why === undefined) return undefined
    // A worker that has hung is still at it.
    await this.#end()
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
