import type { ObservedCard } from '../model/observed-card.ts'
import type { RunControl } from './progress.ts'

/** Looks at a card that plays: every file in the order of its directories, sounds inspected. Writes nothing. */
export interface CardObserver {
  /**
   * @throws AppError `observe/not-a-folder`, `observe/unreadable`, `observe/too-many-files`; Cancelled
   */
  observe(folder: string, control: RunControl): Promise<ObservedCard>
}
