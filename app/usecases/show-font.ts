import type { Judged } from '../boards/judge.ts'
import type { ResponseOf } from '../contract/calls.ts'
import type { Edition } from '../model/library.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'

/** A board's whole opinion of editions. */
export interface FontJudge {
  readonly boardId: string
  judge(edition: Edition): Promise<Judged>
}

/**
 * One edition with its sounds and licences, and with what a board finds where one is asked.
 * @throws AppError `font/unknown`
 */
export async function showFont(
  database: WorkshopDatabase,
  editionId: string,
  judge: FontJudge | null,
): Promise<ResponseOf<'fonts:show'>> {
  const edition = await database.library.getEdition(editionId)
  const [licences, judged] = await Promise.all([
    database.records.listLicencesOfFonts([edition.font.id]),
    judge?.judge(edition),
  ])
  return {
    edition,
    board: judge?.boardId ?? null,
    verdict: judged?.verdict ?? null,
    findings: judged?.findings ?? [],
    licences,
  }
}
