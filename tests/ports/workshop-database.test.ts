import { chmodSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import { startChild } from '../support/start-child.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'
import { testWorkshopDatabase } from '../support/test-workshop-database.ts'
import { workshopDatabaseSuite } from './workshop-database-suite.ts'

workshopDatabaseSuite('SQLite', () => testWorkshopDatabase())

describe('a workshop shared by two processes', () => {
  test('what the other one commits is seen, and told', async () => {
    const folder = temporaryFolder()
    const database = await testWorkshopDatabase(folder)
    const told = new Promise<void>((resolve) => database.onForeignChange(resolve))
    const other = startChild('hold-transaction-child.ts', folder, 'Ember Row')
    await other.says('open')
    expect(await database.records.listCreators()).toEqual([])
    other.process.stdin?.write('commit\n')
    await other.says('closed')
    await told
    expect((await database.records.listCreators()).map((creator) => creator.name)).toEqual(['Ember Row'])
  })

  test('a write waits for the short write of the other one', async () => {
    const folder = temporaryFolder()
    const database = await testWorkshopDatabase(folder)
    const other = startChild('hold-transaction-child.ts', folder, 'Ember Row')
    await other.says('open')
    const mine = database.inTransaction(({ records }) =>
      records.addCreator({ name: 'Quay Nine', contact: '', note: '' }),
    )
    other.process.stdin?.write('commit\n')
    await mine
    expect((await database.records.listCreators()).map((creator) => creator.name)).toEqual([
      'Ember Row',
      'Quay Nine',
    ])
  })

  test('a process killed inside a transaction leaves nothing of it, and a whole database', async () => {
    const folder = temporaryFolder()
    const other = startChild('hold-transaction-child.ts', folder, 'Ember Row')
    await other.says('open')
    other.process.kill('SIGKILL')
    await other.gone
    const database = await testWorkshopDatabase(folder)
    expect(await database.records.listCreators()).toEqual([])
    await database.inTransaction(({ records }) =>
      records.addCreator({ name: 'Quay Nine', contact: '', note: '' }),
    )
    const file = new Database(join(folder, 'cardwright.sqlite'), { readonly: true })
    expect(file.pragma('integrity_check', { simple: true })).toBe('ok')
    file.close()
  })
})

describe('a workshop that cannot be opened is told in one sentence', () => {
  test('a file that is no database', async () => {
    const folder = temporaryFolder()
    writeFileSync(
      join(folder, 'cardwright.sqlite'),
      'no database at all, but some text that is long enough'.repeat(30),
    )
    await expect(testWorkshopDatabase(folder)).rejects.toMatchObject({ code: 'workshop/damaged' })
  })

  test('a database of another program', async () => {
    const folder = temporaryFolder()
    const file = new Database(join(folder, 'cardwright.sqlite'))
    file.exec('CREATE TABLE recipes (name TEXT)')
    file.close()
    await expect(testWorkshopDatabase(folder)).rejects.toMatchObject({ code: 'workshop/foreign' })
  })

  test('a workshop of a newer Cardwright', async () => {
    const folder = temporaryFolder()
    await (await testWorkshopDatabase(folder)).close()
    const file = new Database(join(folder, 'cardwright.sqlite'))
    file.exec("INSERT INTO kysely_migration (name, timestamp) VALUES ('999-of-tomorrow', '2030-01-01')")
    file.close()
    await expect(testWorkshopDatabase(folder)).rejects.toMatchObject({ code: 'workshop/newer' })
  })

  test.skipIf(process.getuid?.() === 0)('a folder that may not be written (not run as root)', async () => {
    const folder = temporaryFolder()
    chmodSync(folder, 0o500)
    await expect(testWorkshopDatabase(folder)).rejects.toMatchObject({ code: 'workshop/no-permission' })
  })
})
