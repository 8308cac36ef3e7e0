import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import { ALL_MIGRATIONS } from '../../main/adapters/db/migrations/all-migrations.ts'
import { openConnections } from '../../main/adapters/db/open-connections.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

const names = Object.keys(ALL_MIGRATIONS).toSorted()

/** The schema as SQLite keeps it, without what SQLite and the migrator keep for themselves. */
function schemaOf(folder: string): unknown[] {
  const file = new Database(join(folder, 'cardwright.sqlite'), { readonly: true })
  const rows = file
    .prepare(
      "SELECT type, name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite_%' AND name NOT LIKE 'kysely_%' ORDER BY type, name",
    )
    .all()
  file.close()
  return rows
}

async function openedWith(folder: string, migrations: readonly string[]): Promise<void> {
  const chosen = Object.fromEntries(migrations.map((name) => [name, ALL_MIGRATIONS[name]!]))
  const connections = await openConnections(folder, chosen)
  if (migrations.length === 1) {
    connections.writer.handle.exec(
      "INSERT INTO creator (id, name, name_key, contact, note) VALUES ('c1', 'Ember Row', 'ember row', '', 'kept')",
    )
  }
  connections.close()
}

test('an empty file gets the newest schema, with strict tables, and needs no copy', async () => {
  const folder = temporaryFolder()
  await openedWith(folder, names)
  const tables = schemaOf(folder) as { type: string; name: string; sql: string }[]
  for (const table of tables.filter((entry) => entry.type === 'table'))
    expect(table.sql, table.name).toMatch(/STRICT/)
  expect(existsSync(join(folder, 'backups'))).toBe(false)
})

test('the names of the migrations are numbered without a gap', () => {
  expect(names.map((name) => Number(name.slice(0, 3)))).toEqual(names.map((_, n) => n + 1))
})

describe.skipIf(names.length < 2)('a workshop of an earlier version', () => {
  test.each(names.slice(0, -1).map((name, n) => [name, names.slice(0, n + 1)] as const))(
    'that stopped at %s comes to the schema of a new one, with its rows, and a copy of it as it was',
    async (_name, before) => {
      const folder = temporaryFolder()
      for (let n = 1; n <= before.length; n++) await openedWith(folder, names.slice(0, n))
      await openedWith(folder, names)
      const fresh = temporaryFolder()
      await openedWith(fresh, names)
      expect(schemaOf(folder)).toEqual(schemaOf(fresh))
      const file = new Database(join(folder, 'cardwright.sqlite'), { readonly: true })
      expect(file.prepare("SELECT note FROM creator WHERE id = 'c1'").pluck().get()).toBe('kept')
      expect(file.pragma('foreign_key_check')).toEqual([])
      file.close()
      expect(readdirSync(join(folder, 'backups')).length).toBe(before.length)
    },
  )
})
