import { CANDIDATE_RATIO, COARSE_TAPS, coarseTaps, FINE_TAPS, fineTaps, PHASES } from './true-peak-taps.ts'

/** Samples that must lie on either side of a place before it can be searched. */
export const SEARCH_REACH = FINE_TAPS / 2 + 4
const coarseSums = coarseTaps.map((taps) => taps.reduce((sum, tap) => sum + Math.abs(tap), 0))
const COARSE_GAIN = Math.max(...coarseSums)
const GROUP = 32

/**
 * The true peak of one channel, plainly: for each place between two samples the coarse reading; where
 * that is a local maximum within 2 dB of the peak so far, the fine reading at the five quarter points
 * around it, and a parabola through the largest three.
 */
export class TruePeakSearch {
  peak = 0
  readonly #samples: Float64Array
  #end = 2 * SEARCH_REACH

  /** @param longestBlock most samples that one `add` brings */
  constructor(longestBlock: number) {
    this.#samples = new Float64Array(longestBlock + 3 * SEARCH_REACH)
  }

  /** Adds samples (rounded to 32-bit floats by the caller) and searches the places they complete. */
  add(samples: Float32Array): void {
    this.#samples.set(samples, this.#end)
    this.#end += samples.length
    const last = this.#end - SEARCH_REACH
    for (let at = SEARCH_REACH; at < last; at += GROUP) this.#searchGroup(at, Math.min(at + GROUP, last))
    this.#samples.copyWithin(0, this.#end - 2 * SEARCH_REACH, this.#end)
    this.#end = 2 * SEARCH_REACH
  }

  /** Searches what still lies within reach of the last sample. */
  finish(): number {
    this.add(new Float32Array(2 * SEARCH_REACH))
    return this.peak
  }

  #searchGroup(from: number, to: number): void {
    let loudest = 0
    for (let at = from - COARSE_TAPS; at < to + COARSE_TAPS; at++)
      loudest = Math.max(loudest, Math.abs(this.#samples[at] ?? 0))
    // No coarse reading can exceed this, so there is no candidate in the group.
    if (loudest * COARSE_GAIN < this.peak * CANDIDATE_RATIO || loudest === 0) return
    for (let at = from; at < to; at++) this.#searchPlace(at)
  }

  #searchPlace(at: number): void {
    let best = 0
    let phase = 0
    for (let candidate = 0; candidate < PHASES; candidate++) {
      const reading = Math.abs(this.#coarse(at, candidate))
      if (reading > best) {
        best = reading
        phase = candidate
      }
    }
    if (best === 0 || best < this.peak * CANDIDATE_RATIO) return
    const before = phase === 0 ? this.#coarse(at - 1, PHASES - 1) : this.#coarse(at, phase - 1)
    const after = phase === PHASES - 1 ? this.#coarse(at + 1, 0) : this.#coarse(at, phase + 1)
    if (best < Math.abs(before) || best < Math.abs(after)) return
    this.peak = Math.max(this.peak, this.#refine(at * PHASES + phase))
  }

  #coarse(at: number, phase: number): number {
    return interpolate(this.#samples, at, phase === 0 ? undefined : coarseTaps[phase - 1])
  }

  #fine(quarter: number): number {
    const phase = quarter % PHASES
    return interpolate(
      this.#samples,
      (quarter - phase) / PHASES,
      phase === 0 ? undefined : fineTaps[phase - 1],
    )
  }

  #refine(quarter: number): number {
    const readings = [-2, -1, 0, 1, 2].map((step) => Math.abs(this.#fine(quarter + step)))
    const top = Math.max(...readings)
    const place = readings.indexOf(top)
    const before = readings[place - 1]
    const after = readings[place + 1]
    if (before === undefined || after === undefined) return top
    const bend = 2 * top - before - after
    return bend > 0 ? top + (after - before) ** 2 / (8 * bend) : top
  }
}

function interpolate(samples: Float64Array, at: number, taps: Float64Array | undefined): number {
  if (taps === undefined) return samples[at] ?? 0
  const first = at - taps.length / 2 + 1
  let sum = 0
  for (let index = 0; index < taps.length; index++) sum += (taps[index] ?? 0) * (samples[first + index] ?? 0)
  return sum
}
