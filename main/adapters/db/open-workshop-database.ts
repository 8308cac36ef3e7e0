import { AsyncLocalStorage } from 'node:async_hooks'
import type { RecordsReader, RecordsWriter } from '../../../app/ports/bench-records.ts'
import type { LibraryReader, LibraryWriter } from '../../../app/ports/library-records.ts'
import type { Clock, NewId } from '../../../app/ports/machine.ts'
import type { PreparationReader, PreparationWriter } from '../../../app/ports/preparation-records.ts'
import type { WorkshopDatabase, WriteTransaction } from '../../../app/ports/workshop-database.ts'
import type { Repository } from './database-messages.ts'
import { startDatabaseWorker, type DatabaseWorker } from './database-worker.ts'
import {
  LIBRARY_READS,
  LIBRARY_WRITES,
  PREPARATION_READS,
  PREPARATION_WRITES,
  RECORDS_READS,
  RECORDS_WRITES,
  SCAN_STEPS,
} from './port-calls.ts'
import type { ScanSteps } from './scan-steps.ts'
import { sendScan } from './send-scan.ts'

/** The short writes of another process are over long before; a longer one is worth telling. */
const BUSY_WAIT_MS = 15_000

export interface DatabaseOptions {
  /** Stands in the journal beside every edit. */
  readonly who: string
  /** Setting of the workshop that names somebody else instead, where it was told. */
  readonly nameSetting?: string | null
  readonly clock: Clock
  readonly newId: NewId
  /** How long a transaction waits for that of another process before it is told `workshop/busy`. */
  readonly busyWaitMs?: number
}

/**
 * Opens the database of the workshop in `folder`, making both where they are missing. All of SQLite
 * runs in a thread of its own.
 *
 * @throws AppError `workshop/newer`, `workshop/foreign`, `workshop/damaged`, `workshop/no-permission`,
 * `workshop/not-a-folder`, `workshop/disk-full`, `workshop/busy`
 */
export async function openWorkshopDatabase(
  folder: string,
  { who, nameSetting = null, clock, newId, busyWaitMs = BUSY_WAIT_MS }: DatabaseOptions,
): Promise<WorkshopDatabase> {
  const worker = await startDatabaseWorker({
    folder,
    actor: { id: newId(), name: who },
    nameSetting,
    busyWaitMs,
  })
  const running = new AsyncLocalStorage<{ isOpen: boolean }>()
  let lastTransaction: Promise<unknown> = Promise.resolve()
  const read: Send = (of, method, args) => worker.ask({ kind: 'read', of, method, args })
  return {
    library: libraryReader(read),
    records: remote<RecordsReader>('records', RECORDS_READS, read),
    preparation: remote<PreparationReader>('preparation', PREPARATION_READS, read),
    inTransaction: (work) => {
      if (running.getStore()?.isOpen === true) {
        return Promise.reject(new RangeError('a transaction inside a transaction would wait for itself'))
      }
      const state = { isOpen: true }
      const mine = lastTransaction
        .then(() => running.run(state, () => runTransaction(worker, clock, newId, work)))
        .finally(() => (state.isOpen = false))
      lastTransaction = mine.catch(() => {})
      return mine
    },
    onForeignChange: (listener) => worker.onForeignChange(listener),
    close: async () => {
      await lastTransaction
      await worker.close()
    },
  }
}

async function runTransaction<T>(
  worker: DatabaseWorker,
  clock: Clock,
  newId: NewId,
  work: (transaction: WriteTransaction) => Promise<T>,
): Promise<T> {
  let isOpen = true
  const underWay = new Set<Promise<unknown>>()
  const send: Send = (of, method, args, idsNeeded) => {
    if (!isOpen) return Promise.reject(new RangeError(`${method} came after its transaction had ended`))
    const stamp = { at: clock.now(), ids: Array.from({ length: idsNeeded }, () => newId()) }
    const asked = worker.ask({ kind: 'inside', of, method, args, stamp })
    underWay.add(asked)
    void asked.catch(() => {}).then(() => underWay.delete(asked))
    return asked
  }
  const transaction = openTransaction(send, newId)
  await worker.ask({ kind: 'begin' })
  try {
    const result = await work(transaction)
    isOpen = false
    // What `work` did not wait for is part of it all the same.
    await Promise.all(underWay)
    await worker.ask({ kind: 'commit' })
    return result
  } catch (error) {
    isOpen = false
    // What went wrong first is what is told; a worker that is gone has rolled back by dying.
    await worker.ask({ kind: 'rollback' }).catch(() => {})
    throw error
  }
}

function openTransaction(send: Send, newId: NewId): WriteTransaction {
  const steps = remote<ScanSteps>('scan', SCAN_STEPS, send)
  return {
    library: {
      ...libraryReader(send),
      ...remote<Omit<LibraryWriter, 'applyScan'>>('library', LIBRARY_WRITES, send),
      applyScan: (outcome) => sendScan(steps, outcome, newId),
    },
    records: {
      ...remote<RecordsReader>('records', RECORDS_READS, send),
      ...remote<RecordsWriter>('records', RECORDS_WRITES, send),
    },
    preparation: {
      ...remote<PreparationReader>('preparation', PREPARATION_READS, send),
      ...remote<PreparationWriter>('preparation', PREPARATION_WRITES, send),
    },
  }
}

function libraryReader(send: Send): LibraryReader {
  const reader = remote<Omit<LibraryReader, 'getEdition'>>('library', LIBRARY_READS, send)
  return {
    ...reader,
    getEdition: async (editionId) => {
      const [edition] = await reader.getEditions([editionId])
      if (edition === undefined) throw new RangeError('getEditions gave nothing for an id')
      return edition
    },
  }
}

type Send = (of: Repository, method: string, args: readonly unknown[], idsNeeded: number) => Promise<unknown>

/** An object whose every call is sent on. @param calls with each, how many new ids it may need */
function remote<T extends object>(
  of: Repository,
  calls: Readonly<Record<keyof T & string, number>>,
  send: Send,
): T {
  const entries = Object.entries<number>(calls).map(([method, idsNeeded]) => [
    method,
    (...args: readonly unknown[]) => send(of, method, args, idsNeeded),
  ])
  return Object.fromEntries(entries) as T
}
