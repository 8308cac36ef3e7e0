import type { Progress } from '../app/ports/progress.ts'

/** Before this a figure would be a guess. */
const RECKONED_FROM_MS = 2000

/**
 * Reckons the seconds left of the phase under way, from how long its part so far took.
 *
 * Shape: progress, milliseconds of any steady clock -> whole seconds; null while it would be a guess.
 */
export function timeLeftReckoner(): (progress: Progress, nowMs: number) => number | null {
  let phase: string | null = null
  let startMs = 0
  let startDone = 0
  return ({ phase: current, done, total }, nowMs) => {
    if (current !== phase) {
      phase = current
      startMs = nowMs
      startDone = done
    }
    const elapsedMs = nowMs - startMs
    const advanced = done - startDone
    if (total === null || advanced <= 0 || done > total || elapsedMs < RECKONED_FROM_MS) return null
    return Math.ceil(((elapsedMs / advanced) * (total - done)) / 1000)
  }
}
