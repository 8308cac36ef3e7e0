import type { CardIdentity, CardReading, ImageStretch } from '../model/card-reading.ts'
import type { RunControl } from './progress.ts'

/**
 * Reads a card image or a folder back, independently of what wrote it. A damaged file system is a
 * fault in the reading, not an error.
 */
export interface CardReader {
  /** @throws AppError `verify/not-found`, `verify/unreadable` */
  identify(target: string): Promise<CardIdentity>
  /**
   * Every file with its hash, and the hashes of some stretches of an image.
   * @throws AppError `verify/not-found`, `verify/unreadable`; Cancelled
   */
  read(target: string, stretches: readonly ImageStretch[], control: RunControl): Promise<CardReading>
}
