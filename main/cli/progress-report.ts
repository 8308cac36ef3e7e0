import type { OnProgress, Progress } from '../../app/ports/progress.ts'
import { inUnits } from '../../app/model/in-units.ts'
import { printable } from './printable.ts'

/** Where progress goes: standard error. */
export interface ProgressScreen {
  readonly isTerminal: boolean
  readonly columns: number
  write(text: string): void
  /** Milliseconds, from any start. */
  now(): number
}

/** Shows how far a long act has come. */
export interface ProgressReport {
  readonly onProgress: OnProgress
  /** Clears the line, so that what follows stands alone. */
  end(): void
}

const REDRAW_MS = 100
const PLAIN_LINE_MS = 5000
/** Before this the time left would be a guess. */
const TIME_LEFT_FROM_MS = 2000

/** On a terminal one line that renews itself; elsewhere a plain line a phase, and every five seconds. */
export function progressReport(screen: ProgressScreen): ProgressReport {
  let phase = ''
  let phaseStart = 0
  let lastShown = -Infinity
  let isDrawn = false
  return {
    onProgress(progress) {
      const now = screen.now()
      const isNew = progress.phase !== phase
      if (isNew) {
        phase = progress.phase
        phaseStart = now
      }
      if (!isNew && now - lastShown < (screen.isTerminal ? REDRAW_MS : PLAIN_LINE_MS)) return
      lastShown = now
      const line = progressLine(progress, now - phaseStart)
      if (screen.isTerminal) {
        screen.write(`\r\u001b[2K${line.slice(0, Math.max(20, screen.columns - 1))}`)
        isDrawn = true
      } else screen.write(`${line}\n`)
    },
    end() {
      if (isDrawn) screen.write('\r\u001b[2K')
      isDrawn = false
    },
  }
}

/** `reading sounds: 120 of 408 files, 14 s left (Ember/hum.wav)` */
export function progressLine(progress: Progress, elapsedMs: number): string {
  const { done, total, unit } = progress
  const amount =
    unit === 'bytes'
      ? `${inUnits(done)}${total === null ? '' : ` of ${inUnits(total)}`}`
      : `${done}${total === null ? '' : ` of ${total}`} ${(total ?? done) === 1 ? unit.replace(/s$/, '') : unit}`
  const left =
    total !== null && done > 0 && done < total && elapsedMs >= TIME_LEFT_FROM_MS
      ? `, ${duration((elapsedMs / done) * (total - done))} left`
      : ''
  const current = progress.current === null ? '' : ` (${printable(progress.current)})`
  return `${progress.phase}: ${amount}${left}${current}`
}

function duration(ms: number): string {
  const seconds = Math.ceil(ms / 1000)
  return seconds < 60 ? `${seconds} s` : `${Math.ceil(seconds / 60)} min`
}
