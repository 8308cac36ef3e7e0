import { v7 } from 'uuid'
import { onTestFinished } from 'vitest'
import type { WorkshopDatabase } from '../../app/ports/workshop-database.ts'
import { openWorkshopDatabase, type DatabaseOptions } from '../../main/adapters/db/open-workshop-database.ts'
import { temporaryFolder } from './temporary-folder.ts'

/** A real workshop database, in the given folder or a fresh one; closed with the test. */
export async function testWorkshopDatabase(
  folder: string = temporaryFolder(),
  more: Partial<DatabaseOptions> = {},
): Promise<WorkshopDatabase> {
  let second = 0
  const clock = {
    now: () => new Date(Date.UTC(2026, 10, 25, 9, 0, second++)).toISOString().replace('.000', ''),
  }
  const database = await openWorkshopDatabase(folder, { who: 'test bench', clock, newId: v7, ...more })
  onTestFinished(() => database.close())
  return database
}
