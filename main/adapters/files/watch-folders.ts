import { statSync } from 'node:fs'

const LOOK_EVERY_MS = 500

/**
 * Calls back when a file in one of these folders was added, removed or put in another's place, whoever did
 * it; a folder need not be there yet. Looked at by its time now and then: what systems offer for watching
 * needs the folder to exist, and differs from one to the next.
 * @returns how to stop
 */
export function watchFolders(folders: readonly string[], onChange: () => void): () => void {
  const stamp = () =>
    folders.map((folder) => statSync(folder, { throwIfNoEntry: false })?.mtimeMs ?? 0).join()
  let seen = stamp()
  const timer = setInterval(() => {
    try {
      const now = stamp()
      if (now === seen) return
      seen = now
      onChange()
    } catch {
      // A folder that may not be looked at is told to whoever reads from it next.
    }
  }, LOOK_EVERY_MS)
  // Watching alone keeps no process alive.
  timer.unref()
  return () => clearInterval(timer)
}
