import type { ResponseOf } from '../contract/calls.ts'
import type { Verdict } from '../model/finding.ts'
import type { Edition } from '../model/library.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'

/** A board's opinion of editions. */
export interface VerdictGiver {
  readonly boardId: string
  verdictOf(edition: Edition): Promise<Verdict>
}

/** Every edition with its licences counted, and with its verdict where a board is asked. */
export async function listFonts(
  database: WorkshopDatabase,
  judge: VerdictGiver | null,
): Promise<ResponseOf<'fonts:list'>> {
  const [summaries, licences] = await Promise.all([
    database.library.listEditions(),
    database.records.listLicences(),
  ])
  const licenceCounts = new Map<string, number>()
  for (const { fontId } of licences) licenceCounts.set(fontId, (licenceCounts.get(fontId) ?? 0) + 1)
  const verdicts = judge === null ? new Map<string, Verdict>() : await verdictsOf(database, summaries, judge)
  return {
    board: judge?.boardId ?? null,
    fonts: summaries.map((summary) => ({
      ...summary,
      verdict: verdicts.get(summary.id) ?? null,
      licenceCount: licenceCounts.get(summary.font.id) ?? 0,
    })),
  }
}

/** So many editions are in memory at a time. */
const BATCH = 100

async function verdictsOf(
  database: WorkshopDatabase,
  summaries: readonly { readonly id: string }[],
  judge: VerdictGiver,
): Promise<Map<string, Verdict>> {
  const verdicts = new Map<string, Verdict>()
  for (let at = 0; at < summaries.length; at += BATCH) {
    const ids = summaries.slice(at, at + BATCH).map((summary) => summary.id)
    for (const edition of await database.library.getEditions(ids)) {
      verdicts.set(edition.id, await judge.verdictOf(edition))
    }
  }
  return verdicts
}
