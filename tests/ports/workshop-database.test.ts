import {
  chmodSync,
  closeSync,
  openSync,
  readFileSync,
  statSync,
  truncateSync,
  writeFileSync,
  writeSync,
} from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import type { WorkshopDatabase } from '../../app/ports/workshop-database.ts'
import { inspectionOf, scannedEdition, scanOutcome } from '../support/library-rows.ts'
import { smallDisk, testOnSmallDisk } from '../support/small-disk.ts'
import { startChild, startChildAsNobody } from '../support/start-child.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'
import { testWorkshopDatabase } from '../support/test-workshop-database.ts'
import { keptRecordsSuite } from './kept-records-suite.ts'
import { workshopDatabaseSuite } from './workshop-database-suite.ts'

workshopDatabaseSuite('SQLite', () => testWorkshopDatabase())
keptRecordsSuite('SQLite', () => testWorkshopDatabase())

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

  test('a longer write of the other one is waited for only so long, then told', async () => {
    const folder = temporaryFolder()
    const database = await testWorkshopDatabase(folder, { busyWaitMs: 60 })
    const other = startChild('hold-transaction-child.ts', folder, 'Ember Row')
    await other.says('open')
    let wasBegun = false
    const mine = database.inTransaction(async () => void (wasBegun = true))
    // Reads are served all the while.
    expect(await database.records.listCreators()).toEqual([])
    await expect(mine).rejects.toMatchObject({ code: 'workshop/busy', kind: 'machine', where: folder })
    expect(wasBegun).toBe(false)
    other.process.stdin?.write('commit\n')
    await other.says('closed')
    await database.inTransaction(({ records }) => records.setSetting('after', 'it'))
    expect(await database.records.findSetting('after')).toBe('it')
  })

  test.each([
    ['a short one', '0'],
    ['one larger than SQLite keeps in memory', '20000'],
  ])(
    'a process killed inside a transaction, %s, leaves nothing of it, and a whole database',
    async (_, rows) => {
      const folder = temporaryFolder()
      const other = startChild('hold-transaction-child.ts', folder, 'Ember Row', rows)
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
      expect(file.prepare('SELECT count(*) FROM inspection').pluck().get()).toBe(0)
      file.close()
    },
  )

  test('a process that closes it while reads are under way ends well, with their answers', async () => {
    const child = startChild('close-early-child.ts', temporaryFolder())
    await child.says('closed')
    await child.gone
    expect(child.process.exitCode).toBe(0)
  })

  test('several that open a new workshop at once all find it whole', async () => {
    const folder = join(temporaryFolder(), 'new workshop')
    const names = ['Ember Row', 'Harbour Bell', 'Quay Nine', 'Tidewater']
    const others = names.map((name) => startChild('open-workshop-child.ts', folder, name))
    await Promise.all(others.map((other) => other.gone))
    expect(others.map((other) => other.printed())).toEqual(names.map(() => 'recorded\n'))
    const database = await testWorkshopDatabase(folder)
    expect((await database.records.listCreators()).map((creator) => creator.name)).toEqual(names)
    expect((await database.records.listJournal(10)).map((entry) => entry.who).sort()).toEqual(names)
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

  test.skipIf(process.platform === 'win32')('a folder that this account may not write', async () => {
    const folder = temporaryFolder()
    await (await testWorkshopDatabase(folder)).close()
    chmodSync(folder, 0o555)
    const other = startChildAsNobody('open-workshop-child.ts', folder, 'Ember Row')
    await other.gone
    chmodSync(folder, 0o755)
    expect(other.printed()).toBe('refused: workshop/no-permission\n')
  })

  test('a file where the folder should be', async () => {
    const file = join(temporaryFolder(), 'workshop')
    writeFileSync(file, 'a note')
    await expect(testWorkshopDatabase(file)).rejects.toMatchObject({ code: 'workshop/not-a-folder' })
    await expect(testWorkshopDatabase(join(file, 'below'))).rejects.toMatchObject({
      code: 'workshop/not-a-folder',
    })
  })

  test('a database that was cut short', async () => {
    const folder = temporaryFolder()
    await (await testWorkshopDatabase(folder)).close()
    const path = join(folder, 'cardwright.sqlite')
    truncateSync(path, statSync(path).size - 5 * 4096)
    await expect(
      testWorkshopDatabase(folder).then((database) => database.library.listEditions()),
    ).rejects.toMatchObject({ code: 'workshop/damaged', where: folder })
  })

  test('a damaged page that is only met while reading, after which the rest can still be read', async () => {
    const folder = temporaryFolder()
    const before = await testWorkshopDatabase(folder)
    await before.inTransaction(async ({ records }) => {
      await records.setSetting('first', 'kept')
      await records.addCreator({ name: 'Ember Row', contact: '', note: '' })
    })
    await before.close()
    overwritePageOf(join(folder, 'cardwright.sqlite'), 'creator')
    const database = await testWorkshopDatabase(folder)
    await expect(database.records.listCreators()).rejects.toMatchObject({ code: 'workshop/damaged' })
    await expect(
      database.inTransaction(({ records }) => records.addCreator({ name: 'B', contact: '', note: '' })),
    ).rejects.toMatchObject({ code: 'workshop/damaged' })
    expect(await database.records.findSetting('first')).toBe('kept')
  })
})

testOnSmallDisk('a disk that fills is told, and what was recorded before is whole', async () => {
  const folder = join(smallDisk(4 * 1024 * 1024), 'workshop')
  const database = await testWorkshopDatabase(folder)
  await database.inTransaction(({ records }) => records.setSetting('first', 'kept'))
  const filling = database.inTransaction(async ({ library, records }) => {
    await records.setSetting('first', 'changed')
    for (let n = 0; ; n += 500) {
      const many = Array.from({ length: 500 }, (_, at) => inspectionOf(`sound ${n + at}`))
      await library.keepInspections(many, [])
    }
  })
  await expect(filling).rejects.toMatchObject({ code: 'workshop/disk-full', kind: 'machine', where: folder })
  expect(await database.records.findSetting('first')).toBe('kept')
  await database.close()
  const again = await testWorkshopDatabase(folder)
  expect(await again.records.findSetting('first')).toBe('kept')
  const file = new Database(join(folder, 'cardwright.sqlite'), { readonly: true })
  expect(file.pragma('integrity_check', { simple: true })).toBe('ok')
  file.close()
})

test('what was changed or removed about people is nowhere in the file any longer', async () => {
  const folder = temporaryFolder()
  const database = await testWorkshopDatabase(folder)
  const editionId = await libraryOfOneFont(database)
  const { font } = await database.library.getEdition(editionId)
  const creator = await database.inTransaction(({ records }) =>
    records.addCreator({ name: 'Odalys Quillfeather', contact: 'odalys@example.org', note: 'met in Bremen' }),
  )
  const licence = await database.inTransaction(({ records }) =>
    records.addLicence({ ...LICENCE, fontId: font.id, holder: 'Thaddeus Brackwater', note: 'calls at noon' }),
  )
  const build = await database.inTransaction(({ records }) =>
    records.addBuild({
      ...BUILD,
      clientLabel: 'Ingmar Saltmarsh',
      ruleChanges: [{ rule: 'level', severity: 'note', reason: 'Ingmar is deaf on one ear' }],
      note: 'lives by the quay',
    }),
  )
  const told = [
    'Quillfeather',
    'odalys@',
    'Bremen',
    'Brackwater',
    'at noon',
    'Saltmarsh',
    'by the quay',
    'one ear',
  ]
  await database.inTransaction(async ({ records }) => {
    await records.changeCreator(creator.id, { name: 'forgotten', contact: '', note: '' })
    await records.removeLicence(licence.id)
    await records.changeBuild(build.id, { clientLabel: '', ruleChanges: [], note: '' })
  })
  await database.close()
  const bytes = readFileSync(join(folder, 'cardwright.sqlite'), 'latin1')
  expect(told.filter((word) => bytes.includes(word))).toEqual([])
  expect(bytes).toContain('forgotten')
})

const LICENCE = {
  kind: 'bought',
  grantedOn: '',
  orderReference: '',
  terms: '',
  conversionAllowed: 'unknown',
} as const
const BUILD = {
  code: 'B-1',
  boardId: 'bench-44',
  speaker: '',
  speakerLowLimitHz: null,
  fontEditionIds: [],
  config: null,
  ruleChanges: [],
}

async function libraryOfOneFont(database: WorkshopDatabase): Promise<string> {
  await database.inTransaction(async ({ library }) => {
    const root = await library.addRoot({ path: '/fonts', kind: 'folder', addedAt: '2026-11-25T08:00:00Z' })
    await library.applyScan(scanOutcome(root.id, [scannedEdition('/fonts/A', ['hum.wav'])], ['hum.wav']))
  })
  const [edition] = await database.library.listEditions()
  return edition!.id
}

/** Makes the root page of a table unreadable, as a failing disk would. */
function overwritePageOf(path: string, table: string): void {
  const file = new Database(path, { readonly: true })
  const page = file.prepare('SELECT rootpage FROM sqlite_schema WHERE name = ?').pluck().get(table) as number
  const pageBytes = file.pragma('page_size', { simple: true }) as number
  file.close()
  const disk = openSync(path, 'r+')
  writeSync(disk, Buffer.alloc(pageBytes, 0xa5), 0, pageBytes, (page - 1) * pageBytes)
  closeSync(disk)
}
