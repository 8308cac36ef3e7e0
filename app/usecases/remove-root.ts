import { AppError } from '../errors/app-error.ts'
import type { ScanRoot } from '../model/library.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'

/**
 * Scans a root no more: its editions are marked gone, records stay, no file is touched.
 * @throws AppError `root/unknown`
 */
export async function removeRoot(database: WorkshopDatabase, rootId: string): Promise<ScanRoot> {
  return database.inTransaction(async ({ library }) => {
    const root = (await library.listRoots()).find((each) => each.id === rootId)
    if (root === undefined) {
      throw new AppError({
        code: 'root/unknown',
        what: 'It is no folder or archive that is scanned.',
        where: rootId,
        mend: '`roots list` shows all of them.',
      })
    }
    await library.removeRoot(rootId)
    return root
  })
}
