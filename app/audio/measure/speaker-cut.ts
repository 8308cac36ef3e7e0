import { highPassGain, highPassPoles } from '../kernel/filters.ts'

/** What a speaker with this low limit lets through: a second-order Butterworth high-pass, one channel. */
export class SpeakerCut {
  readonly #gain: number
  readonly #a1: number
  readonly #a2: number
  #x1 = 0
  #x2 = 0
  #y1 = 0
  #y2 = 0

  constructor(limitHz: number, sampleRateHz: number) {
    this.#gain = highPassGain(limitHz, Math.SQRT1_2, sampleRateHz)
    const { a1, a2 } = highPassPoles(limitHz, Math.SQRT1_2, sampleRateHz)
    this.#a1 = a1
    this.#a2 = a2
  }

  next(sample: number): number {
    const bent = this.#gain * (sample - 2 * this.#x1 + this.#x2)
    const passed = bent - this.#a1 * this.#y1 - this.#a2 * this.#y2
    this.#x2 = this.#x1
    this.#x1 = sample
    this.#y2 = this.#y1
    this.#y1 = passed
    return passed
  }
}
