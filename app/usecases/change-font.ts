import { AppError } from '../errors/app-error.ts'
import type { EditionSummary } from '../model/library.ts'
import type { FontChange } from '../ports/library-records.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'

/**
 * Sets a font's name, version or creator by hand; a later scan leaves them as set.
 * @throws AppError `font/nothing-to-change`, `font/unknown`, `creator/unknown`
 */
export async function changeFont(
  database: WorkshopDatabase,
  editionId: string,
  change: FontChange,
): Promise<EditionSummary> {
  if (change.name === undefined && change.version === undefined && change.creatorId === undefined) {
    throw new AppError({
      code: 'font/nothing-to-change',
      what: 'Nothing was named that should change.',
      where: '',
      mend: 'Give a name, a version or a creator.',
    })
  }
  return database.inTransaction(async ({ library }) => {
    await library.changeFont(editionId, change)
    return summaryOf(await library.getEdition(editionId))
  })
}

/** An edition without what only its own page shows. */
function summaryOf({
  sounds: _sounds,
  companions: _companions,
  litter: _litter,
  ...summary
}: EditionSummary & {
  readonly sounds?: unknown
  readonly companions?: unknown
  readonly litter?: unknown
}): EditionSummary {
  return summary
}
