import { readdir, rm, stat } from 'node:fs/promises'
import { uptime } from 'node:os'
import { basename, join } from 'node:path'
import { OWN_MARK, startInMark } from './process-mark.ts'
import { processStart } from './process-start.ts'

/** Clocks are set a little back and forth. */
const LEEWAY_MS = 60_000

/** As the clock stood when this was loaded: when it is put forward later, nothing gets older by it. */
const STARTED_MS = { machine: machineStartedMs(), process: processStartedMs() }

/**
 * Removes what processes that are gone have left half done in a folder: a power cut or a kill left it.
 * What cannot be removed stays; it must not stop the work of whoever tidies.
 *
 * @param processIdOf whose a file or folder of this name is; NaN for what is no such thing
 * @throws what Node throws where the folder cannot be listed
 */
export async function removeLeftBehind(folder: string, processIdOf: (name: string) => number): Promise<void> {
  for (const name of await readdir(folder)) {
    const processId = processIdOf(name)
    if (Number.isNaN(processId)) continue
    const path = join(folder, name)
    if (await isLeftBehind(path, processId)) await rm(path, { recursive: true, force: true }).catch(() => {})
  }
}

/**
 * Whether the process of this number that made it is gone. Numbers come again, in a container even the
 * same at every start. Where its name tells when that process began, the one that runs now began then or
 * is another. Else its age must do: what is older than the start of the machine, or than this very
 * process, is of another one that had the number before. What has this process's own mark in its name is
 * never left behind, whatever the clock does.
 */
export async function isLeftBehind(path: string, processId: number): Promise<boolean> {
  const name = basename(path)
  if (name.includes(OWN_MARK)) return false
  if (!isProcessRunning(processId)) return true
  const startThen = startInMark(name, processId)
  const startNow = startThen === null ? null : processStart(processId)
  if (startNow !== null && startThen !== startNow) return true
  const modifiedMs = (await stat(path).catch(() => null))?.mtimeMs
  if (modifiedMs === undefined) return false
  const startedMs =
    processId === process.pid
      ? Math.min(STARTED_MS.process, processStartedMs())
      : Math.min(STARTED_MS.machine, machineStartedMs())
  return modifiedMs < startedMs - LEEWAY_MS
}

function machineStartedMs(): number {
  return Date.now() - uptime() * 1000
}

function processStartedMs(): number {
  return Date.now() - process.uptime() * 1000
}

/** Whether a process of this number is there; another user's counts too. */
function isProcessRunning(processId: number): boolean {
  try {
    process.kill(processId, 0)
    return true
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'ESRCH'
  }
}
