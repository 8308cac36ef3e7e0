import { expect, test } from 'vitest'
import { temporaryFolder } from '../support/temporary-folder.ts'
import { testWorkshopDatabase } from '../support/test-workshop-database.ts'

test('edits stand in the journal under the account until the workshop names somebody, from then on under that name', async () => {
  const folder = temporaryFolder()
  const writes = async (value: string) => {
    const database = await testWorkshopDatabase(folder, { who: 'account', nameSetting: 'bench.name' })
    await database.inTransaction(({ records }) => records.setSetting('bench.name', value))
    const [newest] = await database.records.listJournal(1)
    return newest?.who
  }
  expect(await writes('Kim at the bench')).toBe('account')
  expect(await writes('')).toBe('Kim at the bench')
  expect(await writes('Kim')).toBe('account')
})
