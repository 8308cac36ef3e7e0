import { openWorkshopDatabase } from '../../main/adapters/db/open-workshop-database.ts'

/** Closes the workshop named first while two reads are under way, as after a call that failed, and says `closed`. */
const [folder = ''] = process.argv.slice(2)
const clock = { now: () => '2026-11-25T10:00:00Z' }
const database = await openWorkshopDatabase(folder, { who: 'early', clock, newId: () => crypto.randomUUID() })
const reads = [database.library.listEditions(), database.records.listBuilds()]
const closed = database.close()
await Promise.all(reads)
await closed
process.stdout.write('closed\n')
