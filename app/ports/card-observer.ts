import type { ObservedCard } from '../model/observed-card.ts'
import type { SoundInspection } from '../model/sound.ts'
import type { RunControl } from './progress.ts'

/** Looks at cards and sounds outside the library: every file in the order of its directories, sounds inspected. Writes nothing. */
export interface CardObserver {
  /**
   * @param from the folder of a card, or an image of a whole one
   * @throws AppError `observe/not-a-folder`, `observe/not-a-card-image`, `observe/unreadable`,
   * `observe/too-many-files`; Cancelled
   */
  observe(from: string, control: RunControl): Promise<ObservedCard>
  /**
   * Inspects single files, in the order given.
   * @throws AppError `observe/unreadable` for one that is not there; Cancelled
   */
  inspect(files: readonly string[], control: RunControl): Promise<readonly SoundInspection[]>
}
