import { Cancelled } from '../../app/errors/app-error.ts'
import type { AbortLike } from '../../app/ports/progress.ts'
import type {
  FileToHear,
  FileToInspect,
  InspectedSound,
  SoundInspector,
  SpeakerReadings,
} from '../../app/ports/sound-inspector.ts'
import { CrewMember, type CrewTask, type Lost } from './inspect-crew.ts'
import type { FileAnswer } from './inspect-messages.ts'
import { problemOnly } from './inspect-problems.ts'

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
/** Longest a file may take; and a second more for each mebibyte, of which some 200 are measured in one. */
const HANG_AFTER_MS = 20_000

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
  #queue: CrewTask[] = []

  constructor(options: InspectorOptions) {
    this.#entry = options.entry ?? new URL('./inspect.entry.ts', import.meta.url)
    this.#hangAfterMs = options.hangAfterMs ?? HANG_AFTER_MS
  }

  inspectFiles(
    files: readonly FileToInspect[],
    onDone: (index: number, inspected: InspectedSound) => void,
    cancel: AbortLike,
  ): Promise<void> {
    const tasks = batches(files).map((batch) =>
      this.#task(
        batch.map((index) => files[index]?.path ?? ''),
        files[batch[0] ?? 0]?.sizeBytes ?? 0,
        (id, paths) => ({ job: { type: 'files', id, paths }, transfer: [] }),
        (place, answer) => onDone(batch[place] ?? 0, asInspected(answer)),
      ),
    )
    return this.#runAll(tasks, crewFor(files), cancel)
  }

  measureThroughSpeaker(
    files: readonly FileToHear[],
    limitHz: number,
    onDone: (index: number, readings: SpeakerReadings | null) => void,
    cancel: AbortLike,
  ): Promise<void> {
    const tasks = batches(files).map((batch) =>
      this.#task(
        batch.map((index) => files[index]?.path ?? ''),
        files[batch[0] ?? 0]?.sizeBytes ?? 0,
        (id, paths) => {
          const sha256s = batch.slice(-paths.length).map((index) => files[index]?.sha256 ?? null)
          return { job: { type: 'speaker', id, paths, sha256s, limitHz }, transfer: [] }
        },
        (place, answer) => onDone(batch[place] ?? 0, answer.type === 'speaker' ? answer.readings : null),
      ),
    )
    return this.#runAll(tasks, crewFor(files), cancel)
  }

  async inspectBytes(bytes: Uint8Array, name: string, cancel: AbortLike): Promise<InspectedSound> {
    let inspected = problemOnly('inspect/worker-died', `Reading ${name} came to no end.`)
    // A view of a larger buffer cannot be transferred alone.
    const own = bytes.byteLength === bytes.buffer.byteLength ? bytes : bytes.slice()
    const task = this.#task(
      [name],
      own.length,
      (id) => ({ job: { type: 'bytes', id, name, bytes: own }, transfer: [own.buffer as ArrayBuffer] }),
      (_, answer) => {
        inspected = asInspected(answer)
      },
    )
    await this.#runAll([task], POOL_SIZE, cancel)
    return inspected
  }

  async close(): Promise<void> {
    this.#queue = []
    await Promise.all(this.#crew.splice(0).map((member) => member.end()))
  }

  #task(
    paths: readonly string[],
    largestBytes: number,
    job: (id: number, paths: readonly string[]) => ReturnType<CrewTask['jobFrom']>,
    onAnswer: CrewTask['onAnswer'],
  ): Omit<CrewTask, 'onEnd'> {
    return {
      count: paths.length,
      allowedMs: this.#hangAfterMs + largestBytes / 1024,
      jobFrom: (id, place) => job(id, paths.slice(place)),
      onAnswer,
    }
  }

  /** Runs tasks to their end. On cancelling, those that wait are dropped and those that run are ended. */
  #runAll(tasks: readonly Omit<CrewTask, 'onEnd'>[], crewSize: number, cancel: AbortLike): Promise<void> {
    if (cancel.aborted) return Promise.reject(new Cancelled())
    if (tasks.length === 0) return Promise.resolve()
    return new Promise((resolve, reject) => {
      let open = tasks.length
      const mine = new Set<CrewTask>()
      const stop = () => {
        cancel.removeEventListener('abort', stop)
        this.#queue = this.#queue.filter((task) => !mine.has(task))
        for (const member of this.#crew) if (member.task !== undefined && mine.has(member.task)) member.drop()
        reject(new Cancelled())
      }
      const onEnd = () => {
        if (--open > 0) return
        cancel.removeEventListener('abort', stop)
        resolve()
      }
      for (const task of tasks) {
        // A fault of the listener must reach its caller, not end a worker's message handler.
        const onAnswer: CrewTask['onAnswer'] = (place, answer) => {
          try {
            task.onAnswer(place, answer)
          } catch (error) {
            reject(error)
            stop()
          }
        }
        const whole = { ...task, onAnswer, onEnd }
        mine.add(whole)
        this.#queue.push(whole)
      }
      cancel.addEventListener('abort', stop)
      this.#hire(crewSize)
    })
  }

  #hire(crewSize: number): void {
    while (this.#crew.length < Math.min(crewSize, this.#queue.length)) {
      this.#crew.push(new CrewMember(this.#entry, (member) => this.#occupy(member)))
    }
    for (const member of this.#crew) this.#occupy(member)
  }

  #occupy(member: CrewMember): void {
    if (member.task !== undefined) return
    const task = this.#queue.shift()
    if (task !== undefined) member.run(task)
  }
}

function asInspected(answer: FileAnswer | Lost): InspectedSound {
  if (answer.type === 'inspected') return answer.inspected
  if (answer.type === 'lost') return problemOnly(answer.code, answer.message)
  const code = answer.type === 'failed' ? answer.error.code : 'internal'
  return problemOnly('inspect/fault', `Cardwright met a fault of its own while reading this file (${code}).`)
}

function crewFor(files: readonly FileToInspect[]): number {
  return files.reduce((sum, file) => sum + file.sizeBytes, 0) > SECOND_WORKER_ABOVE_BYTES ? POOL_SIZE : 1
}

/** Indexes in batches, largest file first, so that no worker is left alone with a long one at the end. */
function batches(files: readonly FileToInspect[]): number[][] {
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
