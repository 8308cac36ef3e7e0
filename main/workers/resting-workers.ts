import { Worker } from 'node:worker_threads'
import { WORKER_LIMITS } from '../adapters/worker-limits.ts'
import type { PrepareCancel, PrepareJob, PrepareWorkerData } from './prepare-messages.ts'

/** Between the looking and the making of a run only moments pass. */
const REST_MS = 3000

/** A preparing worker, for one run at a time. */
export class PreparingWorker {
  readonly thread: Worker
  readonly #cancelFlag = new Int32Array(new SharedArrayBuffer(4))

  constructor(entry: URL) {
    const workerData: PrepareWorkerData = { cancelFlag: this.#cancelFlag.buffer as SharedArrayBuffer }
    this.thread = new Worker(entry, { workerData, resourceLimits: WORKER_LIMITS })
    // Heard while it works; one that fails while it rests must not end the process.
    this.thread.on('error', () => undefined)
  }

  /** Whether it was told to end what it does: it can do nothing else after that. */
  get isCancelled(): boolean {
    return Atomics.load(this.#cancelFlag, 0) !== 0
  }

  do(job: PrepareJob): void {
    this.thread.postMessage(job)
  }

  /** Reaches it in the midst of its work, and while it waits for ffmpeg. */
  cancel(): void {
    Atomics.store(this.#cancelFlag, 0, 1)
    this.thread.postMessage({ type: 'cancel' } satisfies PrepareCancel)
  }
}

interface Resting {
  readonly worker: PreparingWorker
  readonly wake: () => void
}

/**
 * Workers that have done their work rest for a moment before they are ended: the next run finds them
 * started and warm, which takes a fifth of a second else. They keep no process alive.
 */
export class RestingWorkers {
  readonly #entry: URL
  readonly #resting: Resting[] = []
  #isClosed = false

  constructor(entry: URL) {
    this.#entry = entry
  }

  /** Starts workers ahead, so that so many rest. */
  haveReady(count: number): void {
    while (!this.#isClosed && this.#resting.length < count) this.rest(new PreparingWorker(this.#entry))
  }

  take(): PreparingWorker {
    const rested = this.#resting.pop()
    if (rested === undefined) return new PreparingWorker(this.#entry)
    rested.wake()
    return rested.worker
  }

  rest(worker: PreparingWorker): void {
    const { thread } = worker
    if (this.#isClosed) return void thread.terminate()
    const leave = () => this.#leave(worker)
    const endRest = setTimeout(() => {
      leave()
      void thread.terminate()
    }, REST_MS).unref()
    thread.once('exit', leave).unref()
    const wake = () => {
      clearTimeout(endRest)
      thread.off('exit', leave).ref()
    }
    this.#resting.push({ worker, wake })
  }

  /** Ends those that rest; one still at work is ended instead of resting. */
  async close(): Promise<void> {
    this.#isClosed = true
    const resting = this.#resting.splice(0)
    await Promise.all(
      resting.map(async ({ worker, wake }) => {
        wake()
        await worker.thread.terminate()
      }),
    )
  }

  #leave(worker: PreparingWorker): void {
    const place = this.#resting.findIndex((each) => each.worker === worker)
    if (place >= 0) this.#resting.splice(place, 1)
  }
}
