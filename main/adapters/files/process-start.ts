import { readFileSync } from 'node:fs'

/** Fields of `/proc/<number>/stat` after the program's name, which may hold anything: the start is the 22nd of all. */
const START_AFTER_NAME = 22 - 3

/**
 * When a process began, in the kernel's ticks since the machine was started: with the number it names
 * a process as long as the machine runs. Source: proc(5), `starttime`.
 * @returns null where the system does not tell
 */
export function processStart(processId: number): string | null {
  try {
    const text = readFileSync(`/proc/${processId}/stat`, 'latin1')
    const afterName = text.slice(text.lastIndexOf(')') + 2)
    const ticks = afterName.split(' ')[START_AFTER_NAME] ?? ''
    return /^\d+$/.test(ticks) ? ticks : null
  } catch {
    return null
  }
}
