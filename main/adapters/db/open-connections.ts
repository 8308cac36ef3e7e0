import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import type { Migration } from 'kysely/migration'
import { connectionOn, type Connection } from './connection.ts'
import { migrateWorkshop } from './migrate-workshop.ts'
import { ALL_MIGRATIONS } from './migrations/all-migrations.ts'

export interface Connections {
  /** The only one that writes. Its PRAGMA data_version changes with commits of other processes alone. */
  readonly writer: Connection
  /** Cannot write, and sees what is committed whatever the writer has open. */
  readonly reader: Connection
  close(): void
}

/** How long opening waits for another process that sets the workshop up at this moment. */
const SET_UP_WAIT_MS = 10_000
const LOG_BYTES_KEPT = 16 * 1024 * 1024
/** A reader in WAL waits only while another process recovers the log or closes the last connection. */
const READ_WAIT_MS = 5_000

/**
 * Opens `cardwright.sqlite` in the folder, makes it where there is none, and brings its schema up to
 * date. @throws as migrate-workshop.ts, and what SQLite or the disk throws.
 */
export async function openConnections(
  folder: string,
  migrations: Readonly<Record<string, Migration>> = ALL_MIGRATIONS,
): Promise<Connections> {
  mkdirSync(folder, { recursive: true })
  const path = join(folder, 'cardwright.sqlite')
  const opened: Connection[] = []
  try {
    const writer = connectionOn(new Database(path, { timeout: SET_UP_WAIT_MS }))
    opened.push(writer)
    writer.handle.pragma('journal_mode = WAL')
    // FULL: a licence that was recorded outlives a power cut. Transactions are few, so it costs little.
    writer.handle.pragma('synchronous = FULL')
    writer.handle.pragma('foreign_keys = ON')
    // What is forgotten is overwritten, not only unlinked.
    writer.handle.pragma('secure_delete = ON')
    // A scan makes the log as large as what it wrote; it need not stay so.
    writer.handle.pragma(`journal_size_limit = ${LOG_BYTES_KEPT}`)
    await migrateWorkshop(writer, migrations)
    // From here on waiting is serve-database.ts's: it must not hold up reads.
    writer.handle.pragma('busy_timeout = 0')
    const reader = connectionOn(
      new Database(path, { readonly: true, fileMustExist: true, timeout: READ_WAIT_MS }),
    )
    opened.push(reader)
    return { writer, reader, close: () => closeAll(opened) }
  } catch (error) {
    closeAll(opened)
    throw error
  }
}

/** Backwards, so that the writer closes last and tidies the log away. */
function closeAll(connections: readonly Connection[]): void {
  for (const connection of connections.toReversed()) connection.close()
}
