import type { Database, Statement } from 'better-sqlite3'
import { Kysely, SqliteDialect } from 'kysely'
import type { Tables } from './tables.ts'

/**
 * One handle, seen in two ways: through Kysely, and by prepared statements for bulk. Both run on
 * the same handle and so in the same transaction; begin and commit belong to serve-database.ts alone.
 */
export interface Connection {
  readonly handle: Database
  readonly kysely: Kysely<Tables>
  /** Prepares a statement once for the connection's life. */
  prepare(sql: string): Statement<unknown[]>
  close(): void
}

export function connectionOn(handle: Database): Connection {
  const prepared = new Map<string, Statement<unknown[]>>()
  return {
    handle,
    kysely: new Kysely<Tables>({ dialect: new SqliteDialect({ database: handle }) }),
    prepare: (sql) => {
      const known = prepared.get(sql)
      if (known !== undefined) return known
      const statement = handle.prepare<unknown[]>(sql)
      prepared.set(sql, statement)
      return statement
    },
    close: () => handle.close(),
  }
}
