import { createHash } from 'node:crypto'
import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import Database from 'better-sqlite3'
import { AppError, Cancelled } from '../../../app/errors/app-error.ts'
import type { Clock } from '../../../app/ports/machine.ts'
import type { HeldLock, NamedLocks } from '../../../app/ports/named-locks.ts'
import type { RunControl } from '../../../app/ports/progress.ts'
import { databaseFault, isBusy } from './database-faults.ts'

const ASK_AGAIN_AFTER_MS = 100

/** A handle that nothing refers to is closed by the garbage collector, and its lock with it. */
const heldHandles = new Set<Database.Database>()

/**
 * Locks as exclusive transactions, or reading ones where a lock is shared, held open on small SQLite
 * files in `locks/`: the operating system takes such a lock away with its process, in under a millisecond, however that ended. A file with a
 * process number would outlive it. Who holds it, what for and since when stands in a text file beside.
 */
export function openNamedLocks(folder: string, { who, clock }: { who: string; clock: Clock }): NamedLocks {
  const locks = join(folder, 'locks')

  async function acquire(name: string, purpose: string): Promise<HeldLock> {
    const path = join(locks, fileNameOf(name))
    try {
      mkdirSync(locks, { recursive: true })
      const handle = lockFile(path, name, 'BEGIN EXCLUSIVE')
      writeHolder(path, holderText(purpose), handle)
      return heldLock(handle, () => rmSync(`${path}.txt`, { force: true }))
    } catch (error) {
      throw databaseFault(error, locks)
    }
  }

  async function share(name: string, purpose: string): Promise<HeldLock> {
    const path = join(locks, fileNameOf(name))
    try {
      mkdirSync(locks, { recursive: true })
      // A transaction that has read holds off whoever wants the file alone, and no other reader.
      const handle = lockFile(path, name, 'BEGIN; SELECT count(*) FROM sqlite_schema')
      const text = holderText(purpose)
      writeSharer(path, text)
      return heldLock(handle, () => {
        if (readFileSync(`${path}.txt`, 'utf8') === text) rmSync(`${path}.txt`)
      })
    } catch (error) {
      throw databaseFault(error, locks)
    }
  }

  const holderText = (purpose: string): string =>
    `${who}, ${purpose}\nprocess ${process.pid}\n${clock.now()}\n`

  async function inTurn(
    take: typeof acquire,
    name: string,
    purpose: string,
    { cancel, onProgress }: RunControl,
  ): Promise<HeldLock> {
    const [phase, unit] = ['waiting for another Cardwright', 'files'] as const
    for (;;) {
      if (cancel.aborted) throw new Cancelled()
      try {
        return await take(name, purpose)
      } catch (error) {
        if (!(error instanceof AppError) || error.code !== 'lock/held') throw error
        const [holder, owner] = holderLines(join(locks, fileNameOf(name)))
        onProgress({ phase, done: 0, total: null, unit, current: `${holder}, ${owner}` })
      }
      await pause(ASK_AGAIN_AFTER_MS)
    }
  }

  return {
    acquire,
    acquireInTurn: (...asked) => inTurn(acquire, ...asked),
    acquireShared: (...asked) => inTurn(share, ...asked),
  }
}

/** @param begin what opens the transaction that is the lock @throws AppError `lock/held` */
function lockFile(path: string, name: string, begin: string): Database.Database {
  const handle = new Database(`${path}.sqlite`, { timeout: 0 })
  try {
    handle.exec(begin)
  } catch (error) {
    handle.close()
    throw isBusy(error) ? held(path, name) : error
  }
  heldHandles.add(handle)
  return handle
}

/** Appears whole, so that nobody reads half of it. */
function writeHolder(path: string, text: string, handle: Database.Database): void {
  try {
    writeFileSync(`${path}.txt.new`, text)
    renameSync(`${path}.txt.new`, `${path}.txt`)
  } catch (error) {
    rmSync(`${path}.txt.new`, { force: true })
    letGo(handle)
    throw error
  }
}

/** Others that share it may write theirs at this moment: whose text stays is all the same. */
function writeSharer(path: string, text: string): void {
  try {
    writeFileSync(`${path}.txt.new`, text)
    renameSync(`${path}.txt.new`, `${path}.txt`)
  } catch {
    // It is held all the same, and the other's text tells of somebody who holds it.
  }
}

function heldLock(handle: Database.Database, removeText: () => void): HeldLock {
  return {
    release: async () => {
      if (!handle.open) return
      try {
        // First the text: once the lock is free, the file is another's.
        removeText()
      } catch {
        // It tells of nobody any more; whoever comes next writes over it.
      } finally {
        letGo(handle)
      }
    },
  }
}

function letGo(handle: Database.Database): void {
  heldHandles.delete(handle)
  handle.close()
}

function held(path: string, name: string): AppError {
  const [holder, owner, since] = holderLines(path)
  return new AppError({
    code: 'lock/held',
    what: `${holder} (${owner}) has been at it since ${since}.`,
    where: name,
    mend: 'Wait until that is done, or end it, then try again.',
    kind: 'machine',
  })
}

function holderLines(path: string): readonly [holder: string, owner: string, since: string] {
  let lines: string[] = []
  try {
    lines = readFileSync(`${path}.txt`, 'utf8').trim().split('\n')
  } catch {
    // The holder is just about to write it, or has just let go.
  }
  const [holder = 'Another Cardwright', owner = 'another process', since = 'a moment ago'] = lines
  return [holder, owner, since]
}

/** Readable, safe as a file name anywhere, and different for different names. */
function fileNameOf(name: string): string {
  const readable = name
    .normalize('NFKD')
    .replaceAll(/[^A-Za-z0-9]+/g, '-')
    .slice(-40)
  return `${readable}-${createHash('sha256').update(name).digest('hex').slice(0, 12)}`
}
