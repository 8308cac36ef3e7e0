import type { ScanProblem } from '../../../app/model/library.ts'
import type { SoundInspection } from '../../../app/model/sound.ts'
import type { KnownFile, ScanApplied, ScannedEdition } from '../../../app/ports/library-records.ts'
import type { PeaksPlace } from '../../../app/ports/peaks-archive.ts'

/**
 * A scan's outcome crosses to the database's thread in steps, each of bounded size, all inside one
 * transaction. Editions that are as the last scan left them are told by their digests alone.
 */
export interface ScanSteps {
  /** @throws AppError `root/unknown` */
  beginScan(rootId: string, at: string): Promise<void>
  scanInspections(inspections: readonly SoundInspection[]): Promise<void>
  scanPeaks(places: readonly PeaksPlace[]): Promise<void>
  scanFiles(files: readonly KnownFile[]): Promise<void>
  /** Heads of all editions, in the order in which they are numbered. */
  scanHeads(heads: readonly EditionHead[]): Promise<void>
  /** @returns numbers of the editions that must be sent in full, in an order to be kept. */
  scanWanted(): Promise<readonly number[]>
  scanEditions(editions: readonly NumberedEdition[]): Promise<void>
  finishScan(problems: readonly ScanProblem[], treeDigest: string | null): Promise<ScanApplied>
}

/** Enough of a scanned edition to know it again, and to know whether anything about it is new. */
export interface EditionHead {
  readonly editionId: string | null
  readonly path: string
  readonly innerPath: string | null
  /** SHA-256 over the sorted hashes of its sounds. */
  readonly soundsHash: string
  /** SHA-256 over all that the scan tells of it. */
  readonly digest: string
}

export interface NumberedEdition {
  readonly number: number
  readonly edition: ScannedEdition
  /** Fresh ids: ids for the edition, its font, the creator proposed, its place, and each of its sounds. */
  readonly ids: readonly string[]
}

/** Ids that an edition may need besides one for each sound. */
export const IDS_OF_AN_EDITION = 4
