import { createHash } from 'node:crypto'
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { AppError } from '../../../app/errors/app-error.ts'
import type { Clock } from '../../../app/ports/machine.ts'
import type { HeldLock, NamedLocks } from '../../../app/ports/named-locks.ts'
import { databaseFault, isBusy } from './database-faults.ts'

/**
 * Locks as exclusive transactions held open on small SQLite files in `locks/`: the operating system
 * takes such a lock away with its process, in under a millisecond, however that ended. A file with a
 * process number would outlive it. Who holds it, what for and since when stands in a text file beside.
 */
export function openNamedLocks(folder: string, { who, clock }: { who: string; clock: Clock }): NamedLocks {
  const locks = join(folder, 'locks')
  return {
    acquire(name, purpose) {
      return Promise.resolve().then(() => acquire(join(locks, fileNameOf(name)), name, `${who}, ${purpose}`))
    },
  }

  function acquire(path: string, name: string, holder: string): HeldLock {
    let handle: Database.Database | undefined
    try {
      mkdirSync(locks, { recursive: true })
      handle = new Database(`${path}.sqlite`, { timeout: 0 })
      handle.exec('BEGIN EXCLUSIVE')
    } catch (error) {
      handle?.close()
      if (isBusy(error)) throw held(path, name)
      throw databaseFault(error, locks)
    }
    const open = handle
    writeFileSync(`${path}.txt`, `${holder}\nprocess ${process.pid}\n${clock.now()}\n`)
    return {
      release() {
        if (!open.open) return Promise.resolve()
        rmSync(`${path}.txt`, { force: true })
        open.exec('ROLLBACK')
        open.close()
        return Promise.resolve()
      },
    }
  }
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
