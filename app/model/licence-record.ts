import type { ConversionAllowed, LicenceKind } from './records.ts'

/**
 * What a card says about the sounds on it: who made them and under which licence. No holder, price,
 * order reference or client: those stay in the workshop. A record, not legal advice.
 */
export interface LicenceRecord {
  readonly fingerprint: string
  /** ISO 8601, UTC, whole seconds. */
  readonly date: string
  readonly toolVersion: string
  readonly boardTitle: string
  /** Version 8 of RFC 9562, derived from the fingerprint. */
  readonly serialUuid: string
  /** Numbered as the board counts them. */
  readonly fonts: readonly LicensedFont[]
  /** Fonts of which single sounds play in others; sorted by name, absent where there are none. */
  readonly lenders?: readonly LendingFont[]
}

export interface LicensedFont extends LendingFont {
  readonly slot: number
  readonly folder: string
}

export interface LicenceOnCard {
  readonly kind: LicenceKind
  readonly terms: string
  /** Absent where unknown, so that cards with licences that do not say keep their bytes. */
  readonly conversionAllowed?: Exclude<ConversionAllowed, 'unknown'>
}

export interface LendingFont {
  readonly name: string
  /** Empty where unknown. */
  readonly version: string
  readonly creatorName: string | null
  readonly licences: readonly LicenceOnCard[]
  readonly files: readonly { readonly path: string; readonly sizeBytes: number; readonly sha256: string }[]
}
