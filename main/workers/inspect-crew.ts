import { Worker } from 'node:worker_threads'
import type { FileAnswer, InspectAnswer, InspectJob } from './inspect-messages.ts'
import { WORKER_LIMITS } from '../adapters/worker-limits.ts'
// Loaded before its workers are started, which then share the mark of this process.
import '../adapters/files/process-mark.ts'

const HANG_CHECK_MS = 500

/** What one worker is given at a time; `jobFrom(place)` is the job for what is left from there on. */
export interface CrewTask {
  readonly count: number
  readonly allowedMs: number
  jobFrom(id: number, place: number): { readonly job: InspectJob; readonly transfer: readonly ArrayBuffer[] }
  onAnswer(place: number, answer: FileAnswer | Lost): void
  onEnd(): void
}

/** The worker was lost over a file: it died, or took far too long. */
export interface Lost {
  readonly type: 'lost'
  readonly code: 'inspect/worker-died' | 'inspect/hung'
  readonly message: string
}

/** One worker and its replacements. */
export class CrewMember {
  task: CrewTask | undefined
  readonly #entry: URL
  readonly #onIdle: (member: CrewMember) => void
  #worker: Worker | undefined
  #jobId = 0
  /** Place in the task where the job now running began, and where it now stands. */
  #begunAt = 0
  #place = 0
  #since = 0
  #watch: NodeJS.Timeout | undefined

  constructor(entry: URL, onIdle: (member: CrewMember) => void) {
    this.#entry = entry
    this.#onIdle = onIdle
  }

  run(task: CrewTask): void {
    this.task = task
    this.#watch = setInterval(() => this.#checkHang(), HANG_CHECK_MS).unref()
    this.#send(task, 0)
  }

  #send(task: CrewTask, place: number): void {
    this.#worker ??= this.#start()
    this.#worker.ref()
    this.#begunAt = place
    this.#place = place
    this.#since = performance.now()
    const { job, transfer } = task.jobFrom(++this.#jobId, place)
    this.#worker.postMessage(job, [...transfer])
  }

  #start(): Worker {
    const worker = new Worker(this.#entry, { resourceLimits: WORKER_LIMITS })
    // A busy machine starts it late, which is not its file's fault.
    worker.on('online', () => {
      if (worker === this.#worker) this.#since = performance.now()
    })
    worker.on('message', (answer: InspectAnswer) => this.#hear(worker, answer))
    worker.on('error', (error) => this.#died(worker, error instanceof Error ? error.message : String(error)))
    worker.on('exit', () => this.#died(worker, 'it ended by itself'))
    return worker
  }

  #hear(worker: Worker, heard: InspectAnswer): void {
    const task = this.task
    if (worker !== this.#worker || task === undefined || heard.id !== this.#jobId) return
    if ('finished' in heard) {
      this.#finish(task)
      return
    }
    const place = this.#begunAt + heard.place
    this.#place = place + 1
    this.#since = performance.now()
    task.onAnswer(place, heard.answer)
  }

  #finish(task: CrewTask): void {
    this.#rest()
    // An idle worker must not keep the process alive.
    this.#worker?.unref()
    task.onEnd()
    this.#onIdle(this)
  }

  #rest(): void {
    this.task = undefined
    clearInterval(this.#watch)
    this.#watch = undefined
  }

  #checkHang(): void {
    const worker = this.#worker
    const { task } = this
    if (task === undefined || worker === undefined || performance.now() - this.#since < task.allowedMs) return
    this.#worker = undefined
    void worker.terminate()
    this.#goOn(task, {
      type: 'lost',
      code: 'inspect/hung',
      message: 'Reading this file took far too long and was given up.',
    })
  }

  #died(worker: Worker, why: string): void {
    if (worker !== this.#worker) return
    this.#worker = undefined
    const message = `Reading this file ended the worker that did it (${why}).`
    if (this.task !== undefined) this.#goOn(this.task, { type: 'lost', code: 'inspect/worker-died', message })
  }

  /** Reports the file at which the worker stood, and goes on behind it with a new worker. */
  #goOn(task: CrewTask, lost: Lost): void {
    const next = this.#place + 1
    if (this.#place < task.count) task.onAnswer(this.#place, lost)
    if (this.task !== task) return
    if (next >= task.count) this.#finish(task)
    else this.#send(task, next)
  }

  /** Gives up the task at once; the worker is ended, since its work hears no message. */
  drop(): void {
    this.#rest()
    void this.end()
    this.#onIdle(this)
  }

  async end(): Promise<void> {
    const worker = this.#worker
    this.#worker = undefined
    clearInterval(this.#watch)
    await worker?.terminate()
  }
}
