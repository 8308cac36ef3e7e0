import type { Connections } from './open-connections.ts'

const LOOK_EVERY_MS = 500

/**
 * Calls back when another process has committed something. Own commits do not count: the number that
 * is looked at moves for those of other connections only, and this is the one that writes.
 * Source: SQLite, PRAGMA data_version.
 * @returns how to stop
 */
export function watchForChanges({ writer }: Connections, onChange: () => void): () => void {
  const version = () => writer.handle.pragma('data_version', { simple: true })
  let seen = version()
  const timer = setInterval(() => {
    // Inside a transaction the number stands still; it is looked at again afterwards.
    if (writer.handle.inTransaction) return
    try {
      const now = version()
      if (now === seen) return
      seen = now
      onChange()
    } catch {
      // A fault of the disk is told to whoever reads or writes next.
    }
  }, LOOK_EVERY_MS)
  return () => clearInterval(timer)
}
