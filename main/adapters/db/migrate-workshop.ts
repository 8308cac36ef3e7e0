import { mkdirSync, rmSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import type { Kysely } from 'kysely'
import type { Migration } from 'kysely/migration'
import { AppError } from '../../../app/errors/app-error.ts'
import type { Connection } from './connection.ts'

/** `Cdwt`: marks a SQLite file as a workshop of Cardwright (PRAGMA application_id). */
const APPLICATION_ID = 0x43647774

/**
 * Brings the database to the newest schema, all in one transaction; a process that does the same at
 * this moment is waited for. A database that holds something is first copied to `backups/`.
 *
 * @throws AppError `workshop/newer` where a newer Cardwright made it, `workshop/foreign` where another
 * program did; what SQLite throws comes through.
 */
export async function migrateWorkshop(
  connection: Connection,
  migrations: Readonly<Record<string, Migration>>,
): Promise<void> {
  const { handle } = connection
  refuseForeign(connection)
  const done = appliedMigrations(connection)
  refuseNewer(connection, done, migrations)
  if (Object.keys(migrations).every((name) => done.includes(name))) return
  if (done.length > 0) backUp(connection, done.at(-1) ?? '')
  const { Migrator } = await import('kysely/migration')

  // Tables are rebuilt by dropping and renaming, which foreign keys would follow.
  handle.pragma('foreign_keys = OFF')
  handle.exec('BEGIN IMMEDIATE')
  try {
    // Another process may have gone ahead while this one waited for the lock.
    refuseNewer(connection, appliedMigrations(connection), migrations)
    handle.pragma(`application_id = ${APPLICATION_ID}`)
    const migrator = new Migrator({
      db: connection.kysely as unknown as Kysely<unknown>,
      provider: { getMigrations: () => Promise.resolve({ ...migrations }) },
      // Work that was begun side by side is numbered in the order of its beginning, and may end in another.
      allowUnorderedMigrations: true,
    })
    const { error } = await migrator.migrateToLatest({ disableTransactions: true })
    if (error !== undefined) throw error
    const dangling = handle.pragma('foreign_key_check') as unknown[]
    if (dangling.length > 0) throw new Error(`a migration left ${dangling.length} rows without their parent`)
    handle.exec('COMMIT')
  } catch (error) {
    if (handle.inTransaction) handle.exec('ROLLBACK')
    throw error
  } finally {
    handle.pragma('foreign_keys = ON')
  }
}

/** Names of the migrations the database has had, in order; none for an empty file. */
function appliedMigrations({ handle }: Connection): readonly string[] {
  const table = handle.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'kysely_migration'").get()
  if (table === undefined) return []
  return handle.prepare<[], string>('SELECT name FROM kysely_migration ORDER BY name').pluck().all()
}

function refuseForeign({ handle }: Connection): void {
  // One snapshot: another process may be making the workshop at this moment.
  const [mark, objects] = handle.transaction(() => [
    handle.pragma('application_id', { simple: true }),
    handle.prepare('SELECT count(*) FROM sqlite_schema').pluck().get(),
  ])()
  if (mark === APPLICATION_ID || (mark === 0 && objects === 0)) return
  throw new AppError({
    code: 'workshop/foreign',
    what: 'The file is a database of another program.',
    where: handle.name,
    mend: 'Name another folder with --workshop, or move the file away.',
  })
}

function refuseNewer(
  { handle }: Connection,
  done: readonly string[],
  migrations: Readonly<Record<string, Migration>>,
): void {
  if (done.every((name) => name in migrations)) return
  throw new AppError({
    code: 'workshop/newer',
    what: 'The workshop was last opened by a newer Cardwright, which this one cannot read.',
    where: dirname(handle.name),
    mend: 'Update Cardwright, or name another folder with --workshop.',
  })
}

function backUp({ handle }: Connection, lastMigration: string): void {
  const folder = join(dirname(handle.name), 'backups')
  mkdirSync(folder, { recursive: true })
  const copy = join(folder, `${basename(handle.name, '.sqlite')}-as-of-${lastMigration}.sqlite`)
  rmSync(copy, { force: true })
  handle.prepare('VACUUM INTO ?').run(copy)
}
