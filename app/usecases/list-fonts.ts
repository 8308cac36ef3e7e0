import type { ResponseOf } from '../contract/calls.ts'
import type { Verdict } from '../model/finding.ts'
import type { Edition } from '../model/library.ts'
import type { WorkshopDatabase } from '../ports/workshop-database.ts'
import { preparedCopies } from './prepare/prepared-copy.ts'

/** A board's opinion of editions. */
export interface VerdictGiver {
  readonly boardId: string
  readonly boardHash: string
  verdictOf(edition: Edition): Promise<Verdict>
}

/** Every edition with its licences counted, and with its verdicts where a board is asked. */
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
  const verdicts = judge === null ? new Map<string, Verdicts>() : await verdictsOf(database, summaries, judge)
  return {
    board: judge?.boardId ?? null,
    fonts: summaries.map((summary) => ({
      ...summary,
      verdict: verdicts.get(summary.id)?.verdict ?? null,
      preparedVerdict: verdicts.get(summary.id)?.preparedVerdict ?? null,
      licenceCount: licenceCounts.get(summary.font.id) ?? 0,
    })),
  }
}

interface Verdicts {
  readonly verdict: Verdict
  readonly preparedVerdict: Verdict | null
}

/** So many editions are in memory at a time. */
const BATCH = 100

async function verdictsOf(
  database: WorkshopDatabase,
  summaries: readonly { readonly id: string }[],
  judge: VerdictGiver,
): Promise<Map<string, Verdicts>> {
  const verdicts = new Map<string, Verdicts>()
  for (let at = 0; at < summaries.length; at += BATCH) {
    const ids = summaries.slice(at, at + BATCH).map((summary) => summary.id)
    const editions = await database.library.getEditions(ids)
    const copies = await preparedCopies(editions, judge.boardHash, database)
    for (const [index, edition] of editions.entries()) {
      const copy = copies[index] ?? edition
      const preparedVerdict = copy === edition ? null : await judge.verdictOf(copy)
      verdicts.set(edition.id, { verdict: await judge.verdictOf(edition), preparedVerdict })
    }
  }
  return verdicts
}
