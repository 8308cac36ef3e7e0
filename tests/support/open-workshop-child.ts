import { v7 } from 'uuid'
import { toReport } from '../../app/errors/app-error.ts'
import { openWorkshopDatabase } from '../../main/adapters/db/open-workshop-database.ts'

/** Opens the workshop named first, records a creator of the name named second, and says how that went. */
const [folder = '', name = ''] = process.argv.slice(2)
const clock = { now: () => '2026-11-25T10:00:00Z' }
try {
  const database = await openWorkshopDatabase(folder, { who: name, clock, newId: v7 })
  await database.inTransaction(({ records }) => records.addCreator({ name, contact: '', note: '' }))
  await database.close()
  process.stdout.write('recorded\n')
} catch (error) {
  process.stdout.write(`refused: ${toReport(error).code}\n`)
}
