import { existsSync, readdirSync, renameSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import type { Kysely } from 'kysely'
import { describe, expect, test } from 'vitest'
import { ALL_MIGRATIONS } from '../../main/adapters/db/migrations/all-migrations.ts'
import { runStatements } from '../../main/adapters/db/migrations/run-statements.ts'
import { openConnections } from '../../main/adapters/db/open-connections.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'
import { testWorkshopDatabase } from '../support/test-workshop-database.ts'

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

test('the names of the migrations are numbered from 1, each number once', () => {
  const numbers = names.map((name) => Number(/^(\d{3})-/.exec(name)?.[1]))
  expect(numbers[0]).toBe(1)
  expect(new Set(numbers).size).toBe(numbers.length)
  expect(numbers.every((number) => number > 0)).toBe(true)
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

test('what stood on record before is taken over: configs as first versions, what contents need', async () => {
  const folder = temporaryFolder()
  const before = Object.fromEntries(
    names.filter((name) => name < '005').map((name) => [name, ALL_MIGRATIONS[name]!]),
  )
  const connections = await openConnections(folder, before)
  const sound = (path: string, editionId: string, sha256: string) => ({
    path,
    sha256,
    origin: { kind: 'sound', editionId, path },
  })
  const record = {
    files: [
      sound('a/hum.wav', 'e1', 'aa'),
      sound('a/clash.wav', 'e1', 'aa'),
      sound('b/hum.wav', 'e2', 'bb'),
      { path: 'CREDITS.TXT', sha256: 'cc', origin: { kind: 'credits' } },
    ],
  }
  const { handle } = connections.writer
  handle.exec(`
    INSERT INTO build (id, code, code_key, board_id, speaker, config_file_name, config_text)
    VALUES ('b1', 'B-7', 'b-7', 'bench-44', '', 'SETTINGS.TXT', 'volume 7'), ('b2', 'B-8', 'b-8', 'bench-44', '', NULL, NULL);
    INSERT INTO actor (id, name) VALUES ('who', 'north bench');
    INSERT INTO journal (at, actor_id, what, entity, entity_id) VALUES ('2026-05-01T08:00:00Z', 'who', 'added', 'build', 'b1');
  `)
  handle
    .prepare(
      `INSERT INTO content (fingerprint, created_at, board_id, board_hash, image_hash, image_bytes, tool_version, record)
       VALUES ('AAAAAAAAAA', '', 'bench-44', '', '', 0, '', ?)`,
    )
    .run(JSON.stringify(record))
  connections.close()
  await openedWith(folder, names)
  const file = new Database(join(folder, 'cardwright.sqlite'), { readonly: true })
  const rows = (query: string) => file.prepare(query).raw().all()
  expect(rows('SELECT build_id, number, file_name, text, recorded_at FROM build_config')).toEqual([
    ['b1', 1, 'SETTINGS.TXT', 'volume 7', '2026-05-01T08:00:00Z'],
  ])
  expect(rows('SELECT sha256 FROM content_bytes ORDER BY sha256')).toEqual([['aa'], ['bb'], ['cc']])
  expect(rows('SELECT edition_id FROM content_source ORDER BY edition_id')).toEqual([['e1'], ['e2']])
  file.close()
})

test('of a licence recorded before, nobody has said whether it allows conversion', async () => {
  const folder = temporaryFolder()
  const before = Object.fromEntries(
    names.filter((name) => name < '006').map((name) => [name, ALL_MIGRATIONS[name]!]),
  )
  const connections = await openConnections(folder, before)
  connections.writer.handle.exec(`
    INSERT INTO font (id, name, name_key) VALUES ('f1', 'Harbour Bell', 'harbour bell');
    INSERT INTO licence (id, font_id, kind, granted_on, order_reference, terms)
    VALUES ('l1', 'f1', 'bought', '2026-03-02', 'EX-7', 'one build');
  `)
  connections.close()
  await openedWith(folder, names)
  const database = await testWorkshopDatabase(folder)
  expect(await database.records.listLicences()).toEqual([
    {
      id: 'l1',
      fontId: 'f1',
      fontName: 'Harbour Bell',
      holder: '',
      kind: 'bought',
      grantedOn: '2026-03-02',
      orderReference: 'EX-7',
      terms: 'one build',
      conversionAllowed: 'unknown',
      note: '',
    },
  ])
  await database.close()
  const file = new Database(join(folder, 'cardwright.sqlite'))
  const put = (answer: string) => file.prepare('UPDATE licence SET conversion_allowed = ?').run(answer)
  expect(() => put('perhaps')).toThrow(/CHECK/)
  expect(put('no').changes).toBe(1)
  file.close()
})

describe('a migration that is still to come', () => {
  const withMigration = (statement: string) => ({
    ...ALL_MIGRATIONS,
    '998-to-come': { up: (db: Kysely<unknown>) => runStatements(db, [statement]) },
  })
  const rows = (folder: string, query: string) => {
    const file = new Database(join(folder, 'cardwright.sqlite'), { readonly: true })
    const found = file.prepare(query).pluck().all()
    file.close()
    return found
  }

  test('finds the rows of today, and leaves a copy of the workshop as it was', async () => {
    const folder = temporaryFolder()
    const database = await testWorkshopDatabase(folder)
    await database.inTransaction(({ records }) =>
      records.addCreator({ name: 'Ember Row', contact: '', note: '' }),
    )
    await database.close()
    const migrations = withMigration('ALTER TABLE creator RENAME COLUMN contact TO address')
    ;(await openConnections(folder, migrations)).close()
    expect(rows(folder, "SELECT name FROM creator WHERE address = ''")).toEqual(['Ember Row'])
    const [copy] = readdirSync(join(folder, 'backups'))
    renameSync(join(folder, 'backups', copy ?? ''), join(folder, 'cardwright.sqlite'))
    expect(rows(folder, "SELECT name FROM creator WHERE contact = ''")).toEqual(['Ember Row'])
  })

  test.each([
    ['fails', 'CREATE TABLE creator (id TEXT)'],
    ['leaves rows without their parent', 'DELETE FROM actor'],
  ])('that %s changes nothing: the workshop opens as before', async (_, statement) => {
    const folder = temporaryFolder()
    const database = await testWorkshopDatabase(folder)
    await database.inTransaction(({ records }) =>
      records.addCreator({ name: 'Ember Row', contact: '', note: '' }),
    )
    await database.close()
    await expect(openConnections(folder, withMigration(statement))).rejects.toThrow()
    const again = await testWorkshopDatabase(folder)
    expect((await again.records.listCreators()).map(({ name }) => name)).toEqual(['Ember Row'])
    expect(await again.records.listJournal(5)).toHaveLength(1)
  })
})
