import type { Database, Statement } from 'better-sqlite3'
import type { Kysely } from 'kysely'
import { createRequire } from 'node:module'
import type { Tables } from './tables.ts'

const requireNow = createRequire(import.meta.url)

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
    kysely: onFirstUse(() => {
      const { Kysely: Made, SqliteDialect } = requireNow('kysely') as typeof import('kysely')
      return new Made<Tables>({ dialect: new SqliteDialect({ database: handle }) })
    }),
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

/** An object that is made when something of it is first asked for: loading Kysely takes longer than a short act. */
function onFirstUse<T extends object>(make: () => T): T {
  let made: T | undefined
  return new Proxy({} as T, {
    get(_, key) {
      made ??= make()
      const value: unknown = Reflect.get(made, key)
      return typeof value === 'function' ? (value.bind(made) as unknown) : value
    },
  })
}
