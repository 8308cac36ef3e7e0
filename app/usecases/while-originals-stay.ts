import type { NamedLocks } from '../ports/named-locks.ts'
import type { RunControl } from '../ports/progress.ts'

/** What stands for the store's bytes: held alone by who takes some out, shared by who counts on them. */
export const STORE_LOCK = 'store'

/**
 * Does what counts on bytes of the store that no record names yet: until it is done, no originals are
 * released, and while some are, it waits. The lock of a target is taken inside it, never around it.
 *
 * @param purpose told to whoever wants to release meanwhile
 * @throws what `act` throws; Cancelled
 */
export async function whileOriginalsStay<T>(
  purpose: string,
  locks: NamedLocks,
  control: RunControl,
  act: () => Promise<T>,
): Promise<T> {
  const lock = await locks.acquireShared(STORE_LOCK, purpose, control)
  try {
    return await act()
  } finally {
    await lock.release()
  }
}
