import {
  ENVELOPE_FRAMES,
  type Kernel,
  type KernelSetup,
  type KernelTotals,
  type KernelYield,
} from '../../ports/kernel.ts'
import { ENCODING_BYTES } from '../wav/sample-layout.ts'
import { decodeSamples } from './decode-samples.ts'
import { STEP_CLASSES, stepClass } from './step-classes.ts'
import { TruePeakSearch } from './true-peak-search.ts'

/** Frames that are decoded and measured at a time. */
const BLOCK_FRAMES = 4096

/** The measuring written out plainly: to read, and to hold the fast kernel against. */
export function plainKernel(inputBytes: number): Kernel {
  const input = new Uint8Array(inputBytes)
  let sound: PlainMeasuring | undefined
  return {
    input,
    begin: (setup) => {
      sound = new PlainMeasuring(setup)
    },
    feed: (at, frames) => {
      if (sound === undefined) throw new RangeError('feed before begin')
      return sound.feed(input, at, frames)
    },
    finish: (silentFrames) => {
      if (sound === undefined) throw new RangeError('finish before begin')
      return sound.finish(silentFrames)
    },
  }
}

class PlainMeasuring {
  readonly #setup: KernelSetup
  readonly #channels: ChannelMeasuring[]
  readonly #samples: Float64Array
  #frame = 0
  #hop = 0
  #wild = 0

  constructor(setup: KernelSetup) {
    this.#setup = setup
    this.#channels = Array.from({ length: setup.channels }, (_, channel) => {
      return new ChannelMeasuring(setup, setup.channelWeights[channel] ?? 1)
    })
    this.#samples = new Float64Array(BLOCK_FRAMES * setup.channels)
  }

  feed(input: Uint8Array, at: number, frames: number): KernelYield {
    const out: { lowest: number[]; highest: number[]; loudness: number[]; energy: number[] } = {
      lowest: [],
      highest: [],
      loudness: [],
      energy: [],
    }
    const { channels, encoding } = this.#setup
    const frameBytes = ENCODING_BYTES[encoding] * channels
    for (let done = 0; done < frames; done += BLOCK_FRAMES) {
      const count = Math.min(BLOCK_FRAMES, frames - done)
      this.#wild += decodeSamples(input, at + done * frameBytes, count * channels, encoding, this.#samples)
      this.#envelope(count, out)
      this.#measure(count, out)
    }
    return {
      binLowest: Float32Array.from(out.lowest),
      binHighest: Float32Array.from(out.highest),
      hopLoudness: Float64Array.from(out.loudness),
      hopEnergy: Float64Array.from(out.energy),
    }
  }

  #envelope(frames: number, out: { lowest: number[]; highest: number[] }): void {
    const binSamples = ENVELOPE_FRAMES * this.#setup.channels
    const end = frames * this.#setup.channels
    for (let from = 0; from < end; from += binSamples) {
      const bin = this.#samples.subarray(from, Math.min(from + binSamples, end))
      out.lowest.push(bin.reduce((lowest, sample) => Math.min(lowest, sample), Infinity))
      out.highest.push(bin.reduce((highest, sample) => Math.max(highest, sample), -Infinity))
    }
  }

  #measure(frames: number, out: { loudness: number[]; energy: number[] }): void {
    const { channels } = this.#setup
    let from = 0
    while (from < frames) {
      const hopEnd = Math.round(((this.#hop + 1) * this.#setup.hopRateHz) / 100)
      const to = Math.min(frames, from + hopEnd - this.#frame)
      this.#channels.forEach((channel, index) => {
        for (let frame = from; frame < to; frame++) channel.add(this.#samples[frame * channels + index] ?? 0)
      })
      this.#frame += to - from
      from = to
      if (this.#frame < hopEnd) continue
      this.#hop++
      const finished = this.#channels.map((channel) => channel.endHop())
      out.loudness.push(finished.reduce((sum, { loudness }) => sum + loudness, 0))
      out.energy.push(...finished.map(({ energy }) => energy))
    }
    for (const channel of this.#channels) channel.searchTruePeak()
  }

  finish(silentFrames: number): KernelTotals {
    const channels = this.#channels
    for (const channel of channels) channel.ringOut(silentFrames)
    return {
      tailLoudness: channels.reduce((sum, channel) => sum + channel.endHop().loudness, 0),
      sums: channels.map(({ sum }) => sum),
      squareSums: channels.map(({ squareSum }) => squareSum),
      lowCutEnergy: channels.reduce((sum, { lowCutEnergy }) => sum + lowCutEnergy, 0),
      samplePeak: Math.max(...channels.map(({ samplePeak }) => samplePeak)),
      truePeak: Math.max(...channels.map((channel) => channel.truePeak())),
      clippedRuns: channels.reduce((sum, { clippedRuns }) => sum + clippedRuns, 0),
      wildSamples: this.#wild,
      stepCounts: channels.map(({ stepCounts }) => stepCounts),
    }
  }
}

class ChannelMeasuring {
  sum = 0
  squareSum = 0
  lowCutEnergy = 0
  samplePeak = 0
  clippedRuns = 0
  readonly stepCounts = new Uint32Array(STEP_CLASSES)
  readonly #setup: KernelSetup
  readonly #weight: number
  readonly #search = new TruePeakSearch(BLOCK_FRAMES)
  readonly #pending = new Float32Array(BLOCK_FRAMES)
  #pendingCount = 0
  #hopLoudness = 0
  #hopEnergy = 0
  #clippedInARow = 0
  #isFirst = true
  #x1 = 0
  #x2 = 0
  #highPassed1 = 0
  #highPassed2 = 0
  #weighted1 = 0
  #weighted2 = 0
  #cut1 = 0
  #cut2 = 0

  constructor(setup: KernelSetup, weight: number) {
    this.#setup = setup
    this.#weight = weight
  }

  add(sample: number): void {
    if (!this.#isFirst) this.#countStep(Math.abs(sample - this.#x1))
    this.#isFirst = false
    this.#countClipping(sample)
    this.#pending[this.#pendingCount++] = sample
    this.sum += sample
    this.#hopEnergy += sample * sample
    this.samplePeak = Math.max(this.samplePeak, Math.abs(sample))
    const cut = this.#filter(sample)
    this.lowCutEnergy += cut * cut
  }

  #countStep(step: number): void {
    const place = stepClass(step)
    this.stepCounts[place] = (this.stepCounts[place] ?? 0) + 1
  }

  /** One step of all filters; returns the low-cut's output. */
  #filter(sample: number): number {
    const { weightingHighPass: pass, weightingShelf: shelf, lowCut } = this.#setup.filters
    const bend = sample - 2 * this.#x1 + this.#x2
    this.#x2 = this.#x1
    this.#x1 = sample
    const passed = bend - pass.a1 * this.#highPassed1 - pass.a2 * this.#highPassed2
    const weighted =
      shelf.b0 * passed +
      shelf.b1 * this.#highPassed1 +
      shelf.b2 * this.#highPassed2 -
      shelf.a1 * this.#weighted1 -
      shelf.a2 * this.#weighted2
    this.#highPassed2 = this.#highPassed1
    this.#highPassed1 = passed
    this.#weighted2 = this.#weighted1
    this.#weighted1 = weighted
    this.#hopLoudness += weighted * weighted
    const cut = bend - lowCut.a1 * this.#cut1 - lowCut.a2 * this.#cut2
    this.#cut2 = this.#cut1
    this.#cut1 = cut
    return cut
  }

  #countClipping(sample: number): void {
    const isClipped = sample >= this.#setup.fullScale || sample <= -1
    this.#clippedInARow = isClipped ? this.#clippedInARow + 1 : 0
    if (this.#clippedInARow === 3) this.clippedRuns++
  }

  endHop(): { loudness: number; energy: number } {
    const hop = { loudness: this.#hopLoudness * this.#weight, energy: this.#hopEnergy }
    this.squareSum += this.#hopEnergy
    this.#hopLoudness = 0
    this.#hopEnergy = 0
    return hop
  }

  searchTruePeak(): void {
    this.#search.add(this.#pending.subarray(0, this.#pendingCount))
    this.#pendingCount = 0
  }

  ringOut(frames: number): void {
    for (let frame = 0; frame < frames; frame++) this.#filter(0)
  }

  truePeak(): number {
    return this.#search.finish()
  }
}
