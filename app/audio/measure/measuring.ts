import type { Levels, Measures } from '../../model/measures.ts'
import {
  HOP_RATE_LOWEST_HZ,
  KERNEL_CHANNELS_MAX,
  type Kernel,
  type KernelSetup,
  type KernelTotals,
} from '../../ports/kernel.ts'
import { highPassGain, kernelFilters, LOUDNESS_RATES_HZ, LOW_CUT_HZ } from '../kernel/filters.ts'
import type { SampleLayout } from '../wav/sample-layout.ts'
import { channelWeights } from './channel-weights.ts'
import { amplitudeDb, powerDb } from './decibels.ts'
import { LoudBins, ONSET_SHARE, SILENCE_BELOW } from './loud-bins.ts'
import { loopSeam } from './loop-seam.ts'
import { LoudnessMeter, type LoudnessReadings } from './loudness-meter.ts'
import { NumberList } from './number-list.ts'
import type { SampleLook } from './sample-look.ts'

/** Whether a sound of this layout can be measured, or the reason why not. */
export function cannotMeasure(layout: SampleLayout): string | undefined {
  if (layout.frames === 0) return 'no-samples'
  return layout.channels > KERNEL_CHANNELS_MAX ? 'too-many-channels' : undefined
}

/** Measures one sound: feeds the kernel, and turns what it gives into levels and the rest. */
export class Measuring {
  readonly #kernel: Kernel
  readonly #layout: SampleLayout
  readonly #loudness: LoudnessMeter
  readonly #bins = new LoudBins()
  readonly #hopEnergies: NumberList[]

  constructor(kernel: Kernel, layout: SampleLayout) {
    this.#kernel = kernel
    this.#layout = layout
    this.#loudness = new LoudnessMeter(layout.sampleRateHz)
    this.#hopEnergies = Array.from({ length: layout.channels }, () => new NumberList())
    kernel.begin(kernelSetup(layout))
  }

  /** @returns the envelope of what was fed, for the waveform */
  feed(at: number, frames: number): { lowest: Float32Array; highest: Float32Array } {
    const { binLowest, binHighest, hopLoudness, hopEnergy } = this.#kernel.feed(at, frames)
    this.#bins.add(binLowest, binHighest)
    this.#loudness.add(hopLoudness)
    hopEnergy.forEach((energy, index) => this.#hopEnergies[index % this.#layout.channels]?.push(energy))
    return { lowest: binLowest, highest: binHighest }
  }

  /** @returns the measures, and how many samples were no sound and were taken as 0 */
  finish(look: SampleLook): { measures: Measures; wildSamples: number } {
    const { frames, sampleRateHz, channels } = this.#layout
    const totals = this.#kernel.finish(framesTo400Ms(this.#layout))
    const reasons: Record<string, string> = {}
    const levels = this.#levels(totals, reasons)
    const { seam, reasons: seamReasons } = loopSeam(look, {
      frames,
      channels,
      sampleRateHz,
      quantum: this.#layout.isFloat ? 0 : 2 ** (1 - this.#layout.validBits),
      stepCounts: totals.stepCounts,
      hopEnergies: this.#hopEnergies.map((list) => list.values()),
    })
    const measures: Measures = {
      levels,
      dcOffset: largestMean(totals.sums, frames),
      clippedRuns: totals.clippedRuns,
      ...this.#times(look, totals.samplePeak, reasons),
      lowShare: this.#lowShare(totals, reasons),
      seam,
      reasons: { ...reasons, ...seamReasons },
    }
    return { measures, wildSamples: totals.wildSamples }
  }

  #levels(totals: KernelTotals, reasons: Record<string, string>): Levels {
    const { frames, channels, sampleRateHz } = this.#layout
    const isLoudnessRate = hasLoudness(sampleRateHz)
    const none: LoudnessReadings = {
      integratedLufs: null,
      momentaryMaxLufs: null,
      shortTermMaxLufs: null,
      rangeLu: null,
    }
    const loudness = isLoudnessRate ? this.#loudness.readings(totals.tailLoudness) : none
    const levels: Levels = {
      ...loudness,
      truePeakDbtp: amplitudeDb(Math.max(totals.truePeak, totals.samplePeak)),
      samplePeakDbfs: amplitudeDb(totals.samplePeak),
      rmsDbfs: powerDb(totals.squareSums.reduce((sum, square) => sum + square, 0) / frames / channels),
    }
    const seconds = frames / sampleRateHz
    for (const [key, value] of Object.entries(levels)) {
      if (value === null) reasons[key] = whyNoLevel(key, seconds, isLoudnessRate, totals.samplePeak)
    }
    return levels
  }

  #times(look: SampleLook, samplePeak: number, reasons: Record<string, string>) {
    const { frames, sampleRateHz } = this.#layout
    const ms = (count: number) => (count / sampleRateHz) * 1000
    const onsetIn = this.#bins.onset()
    const onset = onsetIn && look.firstFrame(onsetIn, (loudness) => loudness > samplePeak * ONSET_SHARE)
    if (onset === undefined) reasons.onsetMs = 'silent'
    const audible = (loudness: number) => loudness >= SILENCE_BELOW
    const firstIn = this.#bins.firstAudible()
    const lastIn = this.#bins.lastAudible()
    const first = firstIn && look.firstFrame(firstIn, audible)
    const last = lastIn && look.lastFrame(lastIn, audible)
    return {
      onsetMs: onset === undefined ? null : ms(onset),
      leadingSilenceMs: ms(first ?? frames),
      trailingSilenceMs: ms(last === undefined ? frames : frames - 1 - last),
    }
  }

  #lowShare(totals: KernelTotals, reasons: Record<string, string>): number | null {
    const energy = totals.squareSums.reduce((sum, square) => sum + square, 0)
    if (energy === 0) {
      reasons.lowShare = 'silent'
      return null
    }
    const gain = highPassGain(LOW_CUT_HZ, Math.SQRT1_2, this.#layout.sampleRateHz)
    return Math.min(1, Math.max(0, 1 - (totals.lowCutEnergy * gain * gain) / energy))
  }
}

/** Whether loudness is given at this rate. */
export function hasLoudness(sampleRateHz: number): boolean {
  return sampleRateHz >= LOUDNESS_RATES_HZ.lowest && sampleRateHz <= LOUDNESS_RATES_HZ.highest
}

/** Silence that completes a short sound's only loudness window; 0 where loudness is not given. */
export function framesTo400Ms({ frames, sampleRateHz }: SampleLayout): number {
  return hasLoudness(sampleRateHz) ? Math.max(0, Math.round(0.4 * sampleRateHz) - frames) : 0
}

/** What the kernel must know of a sound before it is fed. */
export function kernelSetup(layout: SampleLayout): KernelSetup {
  return {
    encoding: layout.encoding,
    channels: layout.channels,
    hopRateHz: Math.max(layout.sampleRateHz, HOP_RATE_LOWEST_HZ),
    channelWeights: channelWeights(layout.channels, layout.channelMask),
    fullScale: layout.isFloat ? 1 : 1 - 2 ** (1 - layout.validBits),
    filters: kernelFilters(layout.sampleRateHz),
  }
}

function whyNoLevel(key: string, seconds: number, isLoudnessRate: boolean, samplePeak: number): string {
  const isLoudness = key.endsWith('Lufs') || key === 'rangeLu'
  if (isLoudness && !isLoudnessRate) return 'sample-rate-out-of-range'
  if (key === 'integratedLufs' && seconds < 0.4) return 'shorter-than-400-ms'
  if ((key === 'shortTermMaxLufs' || key === 'rangeLu') && seconds < 3) return 'shorter-than-3-s'
  return samplePeak === 0 ? 'silent' : 'below-the-gate'
}

function largestMean(sums: readonly number[], frames: number): number {
  return sums
    .map((sum) => sum / frames)
    .reduce((largest, mean) => (Math.abs(mean) > Math.abs(largest) ? mean : largest), 0)
}
