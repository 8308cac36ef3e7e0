import { v7 } from 'uuid'
import { openWorkshopDatabase } from '../../main/adapters/db/open-workshop-database.ts'
import { inspectionOf } from './library-rows.ts'

/**
 * Opens the workshop named first, writes a creator and so many inspections inside a transaction, says
 * `open`, and stays there until it is killed or hears `commit`.
 */
const [folder = '', creatorName = '', inspections = '0'] = process.argv.slice(2)
const clock = { now: () => '2026-11-25T10:00:00Z' }
const database = await openWorkshopDatabase(folder, { who: 'another process', clock, newId: v7 })
await database.inTransaction(async ({ library, records }) => {
  await records.addCreator({ name: creatorName, contact: '', note: '' })
  for (let n = 0; n < Number(inspections); n += 500) {
    await library.keepInspections(
      Array.from({ length: 500 }, (_, at) => inspectionOf(`sound ${n + at}`)),
      [],
    )
  }
  process.stdout.write('open\n')
  await new Promise((resolve) => process.stdin.once('data', resolve))
})
await database.close()
process.stdout.write('closed\n')
process.exit(0)
