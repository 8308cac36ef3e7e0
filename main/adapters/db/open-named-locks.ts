import { createHash } from 'node:crypto'
import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import Database from 'better-sqlite3'
import { AppError, Cancelled } from '../../../app/errors/app-error.ts'
import type { Clock } from '../../../app/ports/machine.ts'
import type { HeldLock, NamedLocks } from '../../../app/ports/named-locks.ts'
import { databaseFault, isBusy } from './database-faults.ts'

const ASK_AGAIN_AFTER_MS = 100

/** A handle that nothing refers to is closed by the garbage collector, and its lock with it. */
const heldHandles = new Set<Database.Database>()

/**
 * Locks as exclusive transactions held open on small SQLite files in `locks/`: the operating system
 * takes such a lock away with its process, in under a millisecond, however that ended. A file with a
 * process number would outlive it. Who holds it, what for and since when stands in a text file beside.
 */
export function openNamedLocks(folder: string, { who, clock }: { who: string; clock: Clock }): NamedLocks {
  const locks = join(folder, 'locks')

  async function acquire(name: string, purpose: string): Promise<HeldLock> {
    const path = join(locks, fileNameOf(name))
    try {
      mkdirSync(locks, { recursive: true })
      const handle = lockFile(path, name)
      writeHolder(path, `${who}, ${purpose}\nprocess ${process.pid}\n${clock.now()}\n`, handle)
      return heldLock(path, handle)
    } catch (error) {
      throw databaseFault(error, locks)
    }
  }

  return {
    acquire,
    async acquireInTurn(name, purpose, { cancel, onProgress }) {
      const [phase, unit] = ['waiting for another Cardwright', 'files'] as const
      for (;;) {
        if (cancel.aborted) throw new Cancelled()
        try {
          return await acquire(name, purpose)
        } catch (error) {
          if (!(error instanceof AppError) || error.code !== 'lock/held') throw error
          const [holder, owner] = holderLines(join(locks, fileNameOf(name)))
          onProgress({ phase, done: 0, total: null, unit, current: `${holder}, ${owner}` })
        }
        await pause(ASK_AGAIN_AFTER_MS)
      }
    },
  }
}

/** @throws AppError `lock/held` */
function lockFile(path: string, name: string): Database.Database {
  const handle = new Database(`${path}.sqlite`, { timeout: 0 })
  try {
    handle.exec('BEGIN EXCLUSIVE')
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

function heldLock(path: string, handle: Database.Database): HeldLock {
  return {
    release: async () => {
      if (!handle.open) return
      try {
        // First the text: once the lock is free, the file is another's.
        rmSync(`${path}.txt`, { force: true })
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
