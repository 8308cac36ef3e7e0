import type { LicenceRecord } from '../model/licence-record.ts'

/**
 * The licence record of a card as an ECMA-424 (CycloneDX 1.6) document. The same record gives the
 * same bytes, and as many for any fingerprint and date.
 */
export interface LicenceDocuments {
  serialise(record: LicenceRecord): Uint8Array
  /**
   * Holds the record's document against the standard's schema. Of very many files the first hundred of
   * each font stand for all: that no two items are equal costs the validator the square of their number.
   * @throws TypeError where it fails: a fault of ours
   */
  requireValid(record: LicenceRecord): Promise<void>
}
