import { ENVELOPE_FRAMES } from '../../ports/kernel.ts'

/** -60 dBFS: below it a sample counts as silence. */
export const SILENCE_BELOW = 0.001
/** -40 dB: the share of the peak where a sound counts as begun. */
export const ONSET_SHARE = 0.01
const MOST_RECORDS = 4096

/** A stretch of frames to look through, from `from` up to and without `to`. */
export interface Stretch {
  readonly from: number
  readonly to: number
}

/**
 * Remembers in which bins of the envelope a sound first and last rises above silence, and in which it
 * first reaches a share of its peak. The peak is known only at the end, so each bin louder than all
 * before it is kept until the peak has left it 40 dB behind.
 */
export class LoudBins {
  #bin = 0
  #firstAudible = -1
  #lastAudible = -1
  #peak = 0
  #records: { bin: number; loudest: number }[] = []

  add(lowest: Float32Array, highest: Float32Array): void {
    for (let index = 0; index < lowest.length; index++, this.#bin++) {
      const loudest = Math.max(highest[index] ?? 0, -(lowest[index] ?? 0))
      // A hair below the limit, since the envelope is rounded to 32 bits; the samples decide.
      if (loudest >= SILENCE_BELOW * (1 - 1e-6)) {
        if (this.#firstAudible < 0) this.#firstAudible = this.#bin
        this.#lastAudible = this.#bin
      }
      if (loudest > this.#peak) this.#record(loudest)
    }
  }

  #record(loudest: number): void {
    this.#peak = loudest
    const limit = loudest * ONSET_SHARE * (1 - 1e-6)
    // The last one below the limit stays: the search begins behind it.
    const firstAbove = this.#records.findIndex((record) => record.loudest > limit)
    if (firstAbove > 1) this.#records.splice(0, firstAbove - 1)
    if (this.#records.length >= MOST_RECORDS)
      this.#records = this.#records.filter((_, index) => index % 2 === 0)
    this.#records.push({ bin: this.#bin, loudest })
  }

  /** Frames among which the first audible sample lies; undefined where all is silence. */
  firstAudible(): Stretch | undefined {
    return this.#firstAudible < 0 ? undefined : binFrames(this.#firstAudible, this.#firstAudible)
  }

  lastAudible(): Stretch | undefined {
    return this.#lastAudible < 0 ? undefined : binFrames(this.#lastAudible, this.#lastAudible)
  }

  /** Frames among which the first sample above 1 % of the peak lies. */
  onset(): Stretch | undefined {
    const limit = this.#peak * ONSET_SHARE * (1 - 1e-6)
    const index = this.#records.findIndex((record) => record.loudest > limit)
    const found = this.#records[index]
    if (found === undefined) return undefined
    const before = this.#records[index - 1]
    return binFrames(before === undefined ? 0 : before.bin + 1, found.bin)
  }
}

function binFrames(first: number, last: number): Stretch {
  return { from: first * ENVELOPE_FRAMES, to: (last + 1) * ENVELOPE_FRAMES }
}
