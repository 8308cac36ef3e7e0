import { AppError } from '../errors/app-error.ts'
import type { Creator, NewCreator } from '../model/records.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'

/** @throws AppError `creator/name-taken`: two of one name could not be told apart later. */
export async function addCreator(database: WorkshopDatabase, creator: NewCreator): Promise<Creator> {
  return database.inTransaction(async ({ records }) => {
    if ((await records.findCreatorByName(creator.name)) !== undefined) throw nameTaken(creator.name)
    return records.addCreator(creator)
  })
}

/** @throws AppError `creator/unknown`, `creator/name-taken` */
export async function changeCreator(
  database: WorkshopDatabase,
  id: string,
  change: Partial<NewCreator>,
): Promise<Creator> {
  return database.inTransaction(async ({ records }) => {
    const holder = change.name === undefined ? undefined : await records.findCreatorByName(change.name)
    if (holder !== undefined && holder.id !== id) throw nameTaken(holder.name)
    return records.changeCreator(id, change)
  })
}

function nameTaken(name: string): AppError {
  return new AppError({
    code: 'creator/name-taken',
    what: 'A creator of this name is recorded already.',
    where: name,
    mend: 'Change that record, or choose a name that tells the two apart.',
  })
}
