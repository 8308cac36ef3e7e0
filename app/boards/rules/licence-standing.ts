import type { LicenceKind } from '../../model/records.ts'

/**
 * What a licence on record says, as far as rules can judge it. A record, not legal advice: where the
 * terms do not say, the field is null, and nothing is judged by it.
 */
export interface LicenceStanding {
  readonly kind: LicenceKind
  /** The words of the terms that speak against the use at hand; null where none are known. */
  readonly forbids: string | null
  /** Uses that are still free; null where the terms do not count them. */
  readonly seatsLeft: number | null
  /** The words that ask for the maker to be named; null where there are none. */
  readonly credit: string | null
}
