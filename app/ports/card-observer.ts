import type { ObservedCard } from '../model/observed-card.ts'
import type { SoundInspection } from '../model/sound.ts'
import type { RunControl } from './progress.ts'

/** Looks at cards and sounds outside the library: every file in the order of its directories, sounds inspected. Writes nothing. */
export interface CardObserver {
  /**
   * @throws AppError `observe/not-a-folder`, `observe/unreadable`, `observe/too-many-files`; Cancelled
   */
  observe(folder: string, control: RunControl): Promise<ObservedCard>
  /**
   * Inspects single files, in the order given.
   * @throws AppError `observe/unreadable` for one that is not there; Cancelled
   */
  inspect(files: readonly string[], control: RunControl): Promise<readonly SoundInspection[]>
}
