import { Worker } from 'node:worker_threads'
import { AppError } from '../../../app/errors/app-error.ts'
import type { DatabaseAnswer, DatabaseQuestion, DatabaseStart } from './database-messages.ts'
import { receiveError } from './sent-error.ts'
import { WORKER_LIMITS } from '../worker-limits.ts'

/** A question without its number. */
type Unnumbered = DatabaseQuestion extends infer Q
  ? Q extends { id: number }
    ? Omit<Q, 'id'>
    : never
  : never

interface Waiting {
  readonly parts: unknown[]
  resolve(value: unknown): void
  reject(error: Error): void
}

/** The thread that holds the database, as the rest of the process sees it. */
export interface DatabaseWorker {
  ask(question: Unnumbered): Promise<unknown>
  onForeignChange(listener: () => void): () => void
  close(): Promise<void>
}

/** Starts the worker and waits until its database stands open. @throws AppError as open-connections.ts */
export async function startDatabaseWorker(start: DatabaseStart): Promise<DatabaseWorker> {
  const worker = new Worker(new URL('../../workers/database.entry.ts', import.meta.url), {
    workerData: start,
    resourceLimits: WORKER_LIMITS,
  })
  const waiting = new Map<number, Waiting>()
  const listeners = new Set<() => void>()
  let nextId = 1
  let ended: Error | undefined
  let isClosing = false

  const failAll = (error: Error) => {
    ended ??= error
    for (const one of waiting.values()) one.reject(error)
    waiting.clear()
  }
  const opening = Promise.withResolvers<void>()
  worker.on('message', (answer: DatabaseAnswer) => {
    if (answer.kind === 'opened') return opening.resolve()
    if (answer.kind === 'not-opened') return opening.reject(receiveError(answer.error))
    if (answer.kind === 'foreign-change') return listeners.forEach((listener) => listener())
    const one = waiting.get(answer.id)
    if (one === undefined) return undefined
    if (answer.kind === 'part') {
      for (const item of answer.part) one.parts.push(item)
      return worker.postMessage({ kind: 'taken', id: answer.id } satisfies DatabaseQuestion)
    }
    waiting.delete(answer.id)
    if (answer.kind === 'failed') return one.reject(receiveError(answer.error))
    return one.resolve(answer.streamed ? one.parts : answer.value)
  })
  worker.on('error', (error) => {
    opening.reject(closed(error))
    failAll(closed(error))
  })
  worker.on('exit', () => {
    opening.reject(closed())
    failAll(closed())
  })

  await opening.promise
  // An open workshop alone keeps no process alive; questions under way do.
  worker.unref()
  return {
    ask: (question) => {
      if (ended !== undefined) return Promise.reject(ended)
      const id = nextId++
      const { promise, resolve, reject } = Promise.withResolvers<unknown>()
      waiting.set(id, { parts: [], resolve, reject })
      if (waiting.size === 1) worker.ref()
      worker.postMessage({ ...question, id })
      return promise.finally(() => {
        // Whoever closes waits for its end, and may be the only one left who does.
        if (waiting.size === 0 && !isClosing) worker.unref()
      })
    },
    onForeignChange: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    close: async () => {
      if (ended !== undefined) return
      isClosing = true
      const gone = new Promise((resolve) => worker.once('exit', resolve))
      worker.ref()
      worker.postMessage({ kind: 'close', id: nextId++ } satisfies DatabaseQuestion)
      await gone
    },
  }
}

function closed(cause?: unknown): AppError {
  return new AppError(
    {
      code: 'workshop/closed',
      what: 'The workshop was closed while this was under way; what was not finished is undone.',
      where: '',
      mend: 'Open it again, then try once more.',
      kind: 'machine',
    },
    { cause },
  )
}
