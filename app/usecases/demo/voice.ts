import { sineOfTurns } from './sine-of-turns.ts'

/** What makes all sounds of one demo font belong together. */
export interface Voice {
  readonly seed: number
  readonly baseHz: number
  /** Amplitude of each harmonic of the base, from the first up. */
  readonly harmonics: readonly number[]
  /** Slow swaying of pitch and loudness, in Hz. */
  readonly wobbleHz: number
  /** Share of noise in the sound, 0 to 1. */
  readonly grit: number
}

const TABLE_STEPS = 4096

/** One period of a waveform that can be read at any phase. */
export type Wave = (turns: number) => number

/** The voice's waveform as a table read with linear interpolation, at a peak of 1. */
export function waveOfVoice(voice: Voice): Wave {
  const table = new Float64Array(TABLE_STEPS + 1)
  let peak = 0
  for (let step = 0; step < TABLE_STEPS; step++) {
    let value = 0
    voice.harmonics.forEach((amplitude, index) => {
      const harmonic = index + 1
      // Phases that grow with the square of the number keep the peak low against the loudness.
      value += amplitude * sineOfTurns((harmonic * step) / TABLE_STEPS + (harmonic * harmonic) / 16)
    })
    table[step] = value
    peak = Math.max(peak, Math.abs(value))
  }
  for (let step = 0; step < TABLE_STEPS; step++) table[step] = (table[step] ?? 0) / peak
  table[TABLE_STEPS] = table[0] ?? 0
  return (turns) => {
    const at = (turns - Math.floor(turns)) * TABLE_STEPS
    const step = Math.floor(at)
    const low = table[step] ?? 0
    return low + ((table[step + 1] ?? 0) - low) * (at - step)
  }
}
