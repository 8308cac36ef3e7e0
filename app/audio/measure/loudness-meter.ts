import { loudnessLufs } from './decibels.ts'
import { integratedLoudness, loudnessRange } from './gated-loudness.ts'
import { NumberList } from './number-list.ts'

/** Windows in steps of 20 ms. */
const MOMENTARY_STEPS = 20
const SHORT_TERM_STEPS = 150
/** Integrated loudness and range take a block each 100 ms. */
const BLOCK_EVERY_STEPS = 5

export interface LoudnessReadings {
  readonly integratedLufs: number | null
  readonly momentaryMaxLufs: number | null
  readonly shortTermMaxLufs: number | null
  readonly rangeLu: number | null
}

/**
 * Turns the energies of 10 ms hops into loudness. Windows end at each 20 ms step, at the frame
 * round(k * rate / 50): with the 100 ms step of many meters a 400 ms burst between two steps reads
 * 0.4 LU low, and EBU Tech 3341's case 13 fails.
 */
export class LoudnessMeter {
  readonly #sampleRateHz: number
  readonly #steps = new Float64Array(SHORT_TERM_STEPS)
  readonly #blocks = new NumberList()
  readonly #windows = new NumberList()
  #stepCount = 0
  #halfStep: number | undefined
  #momentaryMax = 0
  #shortTermMax = 0
  #shortTermSum = 0

  constructor(sampleRateHz: number) {
    this.#sampleRateHz = sampleRateHz
  }

  /** @param hops weighted energy of each 10 ms hop, in order */
  add(hops: Float64Array): void {
    for (const hop of hops) {
      if (this.#halfStep === undefined) this.#halfStep = hop
      else {
        this.#addStep(this.#halfStep + hop)
        this.#halfStep = undefined
      }
    }
  }

  #addStep(energy: number): void {
    const slot = this.#stepCount % SHORT_TERM_STEPS
    this.#shortTermSum += energy - (this.#steps[slot] ?? 0)
    this.#steps[slot] = energy
    this.#stepCount++
    // Summed afresh each time round, so that rounding errors of loud stretches do not stay.
    if (slot === SHORT_TERM_STEPS - 1) this.#shortTermSum = this.#steps.reduce((sum, step) => sum + step, 0)
    const isBlock = this.#stepCount % BLOCK_EVERY_STEPS === 0
    if (this.#stepCount >= MOMENTARY_STEPS) {
      const power = this.#lastSteps(MOMENTARY_STEPS) / this.#windowFrames(MOMENTARY_STEPS)
      this.#momentaryMax = Math.max(this.#momentaryMax, power)
      if (isBlock) this.#blocks.push(power)
    }
    if (this.#stepCount >= SHORT_TERM_STEPS) {
      const power = Math.max(0, this.#shortTermSum) / this.#windowFrames(SHORT_TERM_STEPS)
      this.#shortTermMax = Math.max(this.#shortTermMax, power)
      if (isBlock) this.#windows.push(power)
    }
  }

  #lastSteps(count: number): number {
    let sum = 0
    for (let back = 1; back <= count; back++)
      sum += this.#steps[(this.#stepCount - back) % SHORT_TERM_STEPS] ?? 0
    return sum
  }

  #windowFrames(steps: number): number {
    const bound = (step: number) => Math.round((step * this.#sampleRateHz) / 50)
    return bound(this.#stepCount) - bound(this.#stepCount - steps)
  }

  /**
   * @param paddedEnergy for a sound shorter than 400 ms: its whole energy, the ring-out of the
   *   filters over the silence up to 400 ms included
   */
  readings(paddedEnergy: number): LoudnessReadings {
    const isShort = this.#stepCount < MOMENTARY_STEPS
    const padded = () => {
      const finished = this.#steps.subarray(0, this.#stepCount).reduce((sum, step) => sum + step, 0)
      return (finished + (this.#halfStep ?? 0) + paddedEnergy) / Math.round(0.4 * this.#sampleRateHz)
    }
    return {
      integratedLufs: isShort ? null : integratedLoudness(this.#blocks.values()),
      momentaryMaxLufs: loudnessLufs(isShort ? padded() : this.#momentaryMax),
      shortTermMaxLufs: loudnessLufs(this.#shortTermMax),
      rangeLu: loudnessRange(this.#windows.values()),
    }
  }
}
