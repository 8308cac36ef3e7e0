import type { RunControl } from './progress.ts'

/**
 * Locks by name for acts that must not overlap, across processes: scan of one root, writing to one
 * card, restore, collecting the store. A lock frees itself when its process dies.
 */
export interface NamedLocks {
  /**
   * @throws AppError `lock/held`, in one sentence: who holds it and since when.
   */
  acquire(name: string, purpose: string): Promise<HeldLock>
  /**
   * Waits until whoever holds it lets go, and tells the holder as progress: for acts that both should be
   * done, one after the other. @throws Cancelled
   */
  acquireInTurn(name: string, purpose: string, control: RunControl): Promise<HeldLock>
  /**
   * Holds it together with others that share it: for acts that may overlap each other, and none of which
   * may overlap the one that acquires it alone. Waits for that one, as `acquireInTurn` does. While several
   * share it, one of them is told as the holder, or nobody by name. @throws Cancelled
   */
  acquireShared(name: string, purpose: string, control: RunControl): Promise<HeldLock>
}

export interface HeldLock {
  release(): Promise<void>
}
