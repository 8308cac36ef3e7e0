import type { LicenceStanding } from '../boards/rules/licence-standing.ts'
import type { Licence } from '../model/records.ts'

/** How a font is to be used, as far as terms speak of it. */
export interface LicenceUse {
  /** Whether the build is for somebody else. */
  readonly isForClient: boolean
  /** Other builds that use the font already; null where no build is asked about. */
  readonly otherBuilds: number | null
}

const CREDIT =
  /\b(credit|attribution|name (?:the|its|their) (?:maker|creator|author)|mention (?:the|its) (?:maker|creator))\b/i
const AGAINST_CLIENTS =
  /\b(personal use only|for personal use|private use only|non-?commercial|not for (?:re)?sale|no resale|own use only|for testing)\b/i
const BUILDS = /\b(one|two|three|four|five|six|\d{1,3}) (?:build|hilt)s?\b/i
const NUMBERS: Readonly<Record<string, number>> = { one: 1, two: 2, three: 3, four: 4, five: 5, six: 6 }

/**
 * What licences on record say about a use, from the words of their terms. English words only; terms
 * that say nothing about a thing leave it null, and no rule judges it. A record, not legal advice.
 */
export function licenceStandings(licences: readonly Licence[], use: LicenceUse): readonly LicenceStanding[] {
  const seats = licences.map(({ terms }) => seatsOf(terms))
  // One licence that counts nothing covers any number of builds.
  const all = seats.every((count) => count !== null) ? seats.reduce((sum, count) => sum + count, 0) : null
  const seatsLeft = all === null || use.otherBuilds === null ? null : all - use.otherBuilds
  return licences.map(({ kind, terms }) => ({
    kind,
    forbids: use.isForClient && kind !== 'own' ? clauseWith(AGAINST_CLIENTS, terms) : null,
    seatsLeft,
    credit: clauseWith(CREDIT, terms),
  }))
}

function seatsOf(terms: string): number | null {
  const count = BUILDS.exec(terms)?.[1]?.toLowerCase()
  return count === undefined ? null : (NUMBERS[count] ?? Number(count))
}

/** The stretch of the terms, between full stops and semicolons, that has such words. */
function clauseWith(words: RegExp, terms: string): string | null {
  const clause = terms.split(/[.;\n]/).find((each) => words.test(each))
  return clause === undefined ? null : clause.trim()
}
