import { join } from 'node:path'
import { Worker } from 'node:worker_threads'
import { Cancelled, fromReport } from '../../app/errors/app-error.ts'
import type {
  FileToHash,
  HashedFile,
  LibraryFiles,
  LookedAt,
  OpenArchive,
  WalkedTree,
} from '../../app/ports/library-files.ts'
import type { AbortLike } from '../../app/ports/progress.ts'
import { WORKER_LIMITS } from '../adapters/worker-limits.ts'
import { lookAtPath } from '../adapters/files/look-at-path.ts'
import type { OpenedArchive, ScanEvent, ScanJob, ScanResults } from './scan-messages.ts'

/** Files in one message of hashing: so many that messages cost nothing, so few that a cancel is near. */
const HASH_BATCH = 64
/** Above this many files the worker that has walked them holds more memory than starting another costs. */
const LARGE_TREE_FILES = 20_000

/** The files of one scan, looked at and read in a worker of its own, started when first needed. */
export function openWorkerLibraryFiles(): LibraryFiles {
  return new WorkerLibraryFiles()
}

/**
 * The same, its walk begun at once: for a process that opens a workshop only to scan this path. What is
 * wrong with the path is told when it is looked at for the scan.
 */
export function walkAhead(path: string): LibraryFiles {
  const files = new WorkerLibraryFiles()
  files.walkAhead(path)
  return files
}

const NOBODY_CANCELS: AbortLike = {
  aborted: false,
  addEventListener: () => undefined,
  removeEventListener: () => undefined,
}

interface Waiting {
  readonly resolve: (result: ScanResults[ScanJob['type']]) => void
  readonly reject: (error: unknown) => void
  readonly onSeen?: (files: number) => void
  readonly onHashed?: (index: number, hashed: HashedFile) => void
}
type Listening = Pick<Waiting, 'onSeen' | 'onHashed'>

class WorkerLibraryFiles implements LibraryFiles {
  #worker: Worker | undefined
  #lastId = 0
  /** Until the walk ahead is asked for: what asks for a walk before that would have it done twice. */
  #ahead: Promise<void> = Promise.resolve()
  readonly #waiting = new Map<number, Waiting>()

  walkAhead(path: string): void {
    const worker = (this.#worker = this.#start())
    const begin = (root: LookedAt): void => {
      // Closed meanwhile: the workshop could not be opened. Another worker would outlive the command.
      if (this.#worker !== worker) return
      // The walk that is asked for will meet the same, and tell it.
      this.#ask({ type: 'walk-ahead', root }, NOBODY_CANCELS).catch(() => undefined)
    }
    this.#ahead = lookAtPath(path).then(begin, () => undefined)
  }

  async look(path: string): Promise<LookedAt> {
    const looked = await lookAtPath(path)
    // It will be walked next: the worker starts while the rest is made ready.
    this.#worker ??= this.#start()
    return looked
  }

  resolve(folder: string, below: string): string {
    return below === '' ? folder : join(folder, below)
  }

  async walk(
    root: LookedAt,
    knownDigest: string | null,
    onFiles: (seen: number) => void,
    cancel: AbortLike,
  ): Promise<WalkedTree> {
    await this.#ahead
    let files = 0
    const onSeen = (seen: number): void => onFiles((files = seen))
    const tree = await this.#ask({ type: 'walk', root, knownDigest }, cancel, { onSeen })
    if (files > LARGE_TREE_FILES) await this.close()
    return tree
  }

  async hashFiles(
    files: readonly FileToHash[],
    onDone: (index: number, hashed: HashedFile) => void,
    cancel: AbortLike,
  ): Promise<void> {
    for (let from = 0; from < files.length; from += HASH_BATCH) {
      await this.#ask({ type: 'hash', files: files.slice(from, from + HASH_BATCH) }, cancel, {
        onHashed: (index, hashed) => onDone(from + index, hashed),
      })
    }
  }

  async openArchive(path: string, password: string | null, cancel: AbortLike): Promise<OpenArchive> {
    return this.#archive(await this.#ask({ type: 'open', path, password }, cancel), cancel)
  }

  #archive({ archive, entries }: OpenedArchive, cancel: AbortLike): OpenArchive {
    return {
      entries,
      read: (index, mostBytes) => this.#ask({ type: 'read', archive, index, mostBytes }, cancel),
      hash: (index, mostBytes) => this.#ask({ type: 'hash-entry', archive, index, mostBytes }, cancel),
      openInner: async (index, password) =>
        this.#archive(await this.#ask({ type: 'open-inner', archive, index, password }, cancel), cancel),
      close: async () => {
        if (this.#worker !== undefined) await this.#ask({ type: 'close', archive }, cancel)
      },
    }
  }

  async close(): Promise<void> {
    const worker = this.#worker
    this.#worker = undefined
    await worker?.terminate()
  }

  /** The work is synchronous for the most part and hears no message: a cancel ends the worker. */
  #ask<T extends ScanJob['type']>(
    job: ScanJob & { readonly type: T },
    cancel: AbortLike,
    listening: Listening = {},
  ): Promise<ScanResults[T]> {
    if (cancel.aborted) return Promise.reject(new Cancelled())
    return new Promise((resolve, reject) => {
      const id = ++this.#lastId
      const stop = (): void => void this.#giveUp(new Cancelled())
      const settled = (): void => {
        this.#waiting.delete(id)
        cancel.removeEventListener('abort', stop)
      }
      this.#waiting.set(id, {
        ...listening,
        resolve: (result) => {
          settled()
          resolve(result as ScanResults[T])
        },
        reject: (error) => {
          settled()
          reject(error)
        },
      })
      cancel.addEventListener('abort', stop)
      this.#worker ??= this.#start()
      this.#worker.postMessage({ id, job })
    })
  }

  #start(): Worker {
    const worker = new Worker(new URL('./scan.entry.ts', import.meta.url), { resourceLimits: WORKER_LIMITS })
    worker.on('message', (event: ScanEvent) => this.#hear(event))
    worker.on('error', (error) => void this.#giveUp(error))
    worker.on('exit', () => {
      if (this.#worker === worker) void this.#giveUp(new Error('the scan worker ended by itself'))
    })
    return worker
  }

  #hear(event: ScanEvent): void {
    const waiting = this.#waiting.get(event.id)
    if (waiting === undefined) return
    if (event.type === 'seen') waiting.onSeen?.(event.files)
    else if (event.type === 'hashed') waiting.onHashed?.(event.index, event.hashed)
    else if (event.type === 'done') waiting.resolve(event.result)
    else {
      const error = fromReport(event.report)
      if (event.report.code === 'internal') error.cause = new Error(event.detail)
      waiting.reject(error)
    }
  }

  async #giveUp(error: unknown): Promise<void> {
    const worker = this.#worker
    this.#worker = undefined
    for (const waiting of [...this.#waiting.values()]) waiting.reject(error)
    await worker?.terminate()
  }
}
