import { Worker } from 'node:worker_threads'
import { Cancelled } from '../../app/errors/app-error.ts'
import type { AbortLike } from '../../app/ports/progress.ts'
import type { InspectedSound, SoundInspector } from '../../app/ports/sound-inspector.ts'
import { problemOnly } from './inspect-file.ts'
import type { InspectAnswer, InspectJob } from './inspect-messages.ts'

/**
 * Two workers: the work is bound by the processor, two saturate the small machines that benches run
 * on, and each costs 40 MiB.
 */
const POOL_SIZE = 2
/** Below this much work a second worker takes longer to start than it saves. */
const SECOND_WORKER_ABOVE_BYTES = 24 << 20
/** Files go out in batches of up to this many, or this many bytes: a message costs as much as a small file. */
const BATCH_FILES = 32
const BATCH_BYTES = 2 << 20
/** Longest a file may take: this, and a second for each further mebibyte; measured is 400 times as fast. */
const HANG_AFTER_MS = 20_000
const HANG_CHECK_MS = 500

interface Task {
  /** Files still to be answered, or the bytes of one. */
  readonly job: { readonly paths: readonly string[] } | { readonly name: string; readonly bytes: Uint8Array }
  readonly allowedMs: number
  readonly onDone: (place: number, inspected: InspectedSound) => void
  readonly onEnd: () => void
}

export interface InspectorOptions {
  /** Another worker file and time limit, for tests of workers that die or hang. */
  readonly entry?: URL
  readonly hangAfterMs?: number
}

/** Opens the pool; a worker is started when there is first work for it. */
export function openWorkerInspector(options: InspectorOptions = {}): SoundInspector {
  return new WorkerInspector(options)
}

class WorkerInspector implements SoundInspector {
  readonly #entry: URL
  readonly #hangAfterMs: number
  readonly #crew: CrewMember[] = []
  #queue: Task[] = []
  #wanted = 1

  constructor(options: InspectorOptions) {
    this.#entry = options.entry ?? new URL('./inspect.entry.ts', import.meta.url)
    this.#hangAfterMs = options.hangAfterMs ?? HANG_AFTER_MS
  }

  async inspectFiles(
    files: readonly { readonly path: string; readonly sizeBytes: number }[],
    onDone: (index: number, inspected: InspectedSound) => void,
    cancel: AbortLike,
  ): Promise<void> {
    const totalBytes = files.reduce((sum, file) => sum + file.sizeBytes, 0)
    this.#wanted = totalBytes > SECOND_WORKER_ABOVE_BYTES ? POOL_SIZE : 1
    await this.#runAll(
      batches(files).map((batch) => ({
        job: { paths: batch.map((index) => files[index]?.path ?? '') },
        allowedMs: this.#allowedMs(files[batch[0] ?? 0]?.sizeBytes ?? 0),
        onDone: (place, inspected) => onDone(batch[place] ?? 0, inspected),
      })),
      cancel,
    )
  }

  async inspectBytes(bytes: Uint8Array, name: string, cancel: AbortLike): Promise<InspectedSound> {
    let answer: InspectedSound | undefined
    const onDone = (_: number, inspected: InspectedSound) => {
      answer = inspected
    }
    this.#wanted = POOL_SIZE
    await this.#runAll([{ job: { name, bytes }, allowedMs: this.#allowedMs(bytes.length), onDone }], cancel)
    return answer ?? problemOnly('inspect/worker-died', `Reading ${name} came to no end.`)
  }

  async close(): Promise<void> {
    this.#queue = []
    await Promise.all(this.#crew.splice(0).map((member) => member.end()))
  }

  #allowedMs(bytes: number): number {
    return this.#hangAfterMs + bytes / 1024
  }

  /** Runs tasks to their end. On cancelling, those that wait are dropped and those that run are ended. */
  #runAll(tasks: readonly Omit<Task, 'onEnd'>[], cancel: AbortLike): Promise<void> {
    if (cancel.aborted) return Promise.reject(new Cancelled())
    if (tasks.length === 0) return Promise.resolve()
    return new Promise((resolve, reject) => {
      let open = tasks.length
      const mine = new Set<Task>()
      const stop = () => {
        this.#queue = this.#queue.filter((task) => !mine.has(task))
        for (const member of this.#crew) if (member.task !== undefined && mine.has(member.task)) member.drop()
        cancel.removeEventListener('abort', stop)
        reject(new Cancelled())
      }
      for (const task of tasks) {
        const whole: Task = {
          ...task,
          onDone: (place, inspected) => {
            if (!cancel.aborted) task.onDone(place, inspected)
          },
          onEnd: () => {
            open--
            if (open > 0) return
            cancel.removeEventListener('abort', stop)
            resolve()
          },
        }
        mine.add(whole)
        this.#queue.push(whole)
      }
      cancel.addEventListener('abort', stop)
      this.#hire()
    })
  }

  #hire(): void {
    while (this.#crew.length < Math.min(this.#wanted, this.#queue.length)) {
      this.#crew.push(new CrewMember(this.#entry))
    }
    for (const member of this.#crew) this.#occupy(member)
  }

  #occupy(member: CrewMember): void {
    if (member.task !== undefined) return
    const task = this.#queue.shift()
    if (task === undefined) return
    member.run(task, () => this.#occupy(member))
  }
}

/** One worker and its replacements: a worker that died or hangs is replaced, and its file reported. */
class CrewMember {
  task: Task | undefined
  readonly #entry: URL
  #worker: Worker | undefined
  #jobId = 0
  /** Place in the task where the job now running began, and where it now stands. */
  #begunAt = 0
  #place = 0
  #since = 0
  #watch: NodeJS.Timeout | undefined
  #afterwards: () => void = () => {}

  constructor(entry: URL) {
    this.#entry = entry
  }

  run(task: Task, afterwards: () => void): void {
    this.task = task
    this.#afterwards = afterwards
    this.#send(task, 0)
  }

  /** Starts a task, or what is left of it from `place` on. */
  #send(task: Task, place: number): void {
    this.#worker ??= this.#start()
    this.#place = place
    this.#since = performance.now()
    this.#jobId++
    this.#watch ??= setInterval(() => this.#checkHang(), HANG_CHECK_MS).unref()
    this.#worker.ref()
    if ('paths' in task.job) {
      const job: InspectJob = { type: 'files', id: this.#jobId, paths: task.job.paths.slice(place) }
      this.#worker.postMessage({ ...job })
    } else {
      const { bytes, name } = task.job
      // Bytes of a pool or of another's view cannot be transferred alone.
      const own = bytes.byteLength === bytes.buffer.byteLength ? bytes : bytes.slice()
      const job: InspectJob = { type: 'bytes', id: this.#jobId, name, bytes: own }
      this.#worker.postMessage(job, [own.buffer as ArrayBuffer])
    }
  }

  #start(): Worker {
    const worker = new Worker(this.#entry)
    worker.on('message', (answer: InspectAnswer) => this.#hear(worker, answer))
    worker.on('error', (error) => this.#lost(worker, error instanceof Error ? error.message : String(error)))
    worker.on('exit', () => this.#lost(worker, 'it ended by itself'))
    return worker
  }

  #hear(worker: Worker, answer: InspectAnswer): void {
    const task = this.task
    if (worker !== this.#worker || task === undefined || answer.id !== this.#jobId) return
    if (answer.type === 'finished') {
      this.#finish(task)
      return
    }
    const inspected =
      answer.type === 'done'
        ? answer.inspected
        : problemOnly(
            'inspect/fault',
            `Cardwright met a fault of its own while reading this file (${answer.error.code}).`,
          )
    this.#place = this.#begunAt + answer.place + 1
    this.#since = performance.now()
    task.onDone(this.#begunAt + answer.place, inspected)
  }

  #finish(task: Task): void {
    this.task = undefined
    this.#begunAt = 0
    // An idle worker must not keep the process alive.
    this.#worker?.unref()
    clearInterval(this.#watch)
    this.#watch = undefined
    task.onEnd()
    this.#afterwards()
  }

  #checkHang(): void {
    const task = this.task
    const worker = this.#worker
    if (task === undefined || worker === undefined || performance.now() - this.#since < task.allowedMs) return
    this.#worker = undefined
    void worker.terminate()
    this.#goOn(task, problemOnly('inspect/hung', 'Reading this file took far too long and was given up.'))
  }

  #lost(worker: Worker, why: string): void {
    if (worker !== this.#worker) return
    this.#worker = undefined
    const task = this.task
    if (task === undefined) return
    this.#goOn(
      task,
      problemOnly('inspect/worker-died', `Reading this file ended the worker that did it (${why}).`),
    )
  }

  /** Reports the file at which the worker stood, and goes on behind it with a new worker. */
  #goOn(task: Task, problem: InspectedSound): void {
    const next = this.#place + 1
    task.onDone(this.#place, problem)
    if (this.task !== task) return
    if (!('paths' in task.job) || next >= task.job.paths.length) {
      this.#finish(task)
      return
    }
    this.#begunAt = next
    this.#send(task, next)
  }

  /** Gives up the task at once; the worker is ended, since its work hears no message. */
  drop(): void {
    const worker = this.#worker
    this.#worker = undefined
    this.task = undefined
    this.#begunAt = 0
    clearInterval(this.#watch)
    this.#watch = undefined
    void worker?.terminate()
    this.#afterwards()
  }

  async end(): Promise<void> {
    const worker = this.#worker
    this.#worker = undefined
    clearInterval(this.#watch)
    await worker?.terminate()
  }
}

/** Indexes in batches, largest file first, so that no worker is left alone with a long one at the end. */
function batches(files: readonly { readonly sizeBytes: number }[]): number[][] {
  const order = files.map((_, index) => index)
  order.sort((a, b) => (files[b]?.sizeBytes ?? 0) - (files[a]?.sizeBytes ?? 0))
  const result: number[][] = []
  let batch: number[] = []
  let bytes = 0
  for (const index of order) {
    const size = files[index]?.sizeBytes ?? 0
    if (batch.length > 0 && (batch.length >= BATCH_FILES || bytes + size > BATCH_BYTES)) {
      result.push(batch)
      batch = []
      bytes = 0
    }
    batch.push(index)
    bytes += size
  }
  if (batch.length > 0) result.push(batch)
  return result
}
