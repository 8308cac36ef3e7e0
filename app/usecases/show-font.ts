import type { Judged } from '../boards/judge.ts'
import type { ResponseOf } from '../contract/calls.ts'
import type { Edition } from '../model/library.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'
import { preparedCopies } from './prepare/prepared-copy.ts'

/** A board's whole opinion of editions. */
export interface FontJudge {
  readonly boardId: string
  readonly boardHash: string
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
  const [licences, judged, prepared] = await Promise.all([
    database.records.listLicencesOfFonts([edition.font.id]),
    judge?.judge(edition),
    judge === null ? null : judgePrepared(edition, judge, database),
  ])
  return {
    edition,
    board: judge?.boardId ?? null,
    verdict: judged?.verdict ?? null,
    preparedVerdict: prepared?.verdict ?? null,
    findings: judged?.findings ?? [],
    licences,
  }
}

async function judgePrepared(
  edition: Edition,
  judge: FontJudge,
  database: WorkshopDatabase,
): Promise<Judged | null> {
  const [copy = edition] = await preparedCopies([edition], judge.boardHash, database)
  return copy === edition ? null : judge.judge(copy)
}
