import type { EditionPlace } from '../model/library.ts'
import type { RunControl } from './progress.ts'

/** A file of an edition whose bytes are wanted. */
export interface WantedOriginal {
  /** Inside the edition, `/`-joined. */
  readonly path: string
  readonly sizeBytes: number
  readonly sha256: string
}

/**
 * Brings the bytes of an edition into the content store, from whichever of its places still has them
 * unchanged: folders and archives. What the store has already is not read again.
 */
export interface Originals {
  /**
   * @throws AppError `originals/gone` where no place has the bytes any more, and what
   *   `ContentStore.keepFile` throws; Cancelled
   */
  keep(
    fontName: string,
    places: readonly EditionPlace[],
    wanted: readonly WantedOriginal[],
    control: RunControl,
  ): Promise<void>
}
