import { newSamples, type SampleSource, type Samples } from './sample-source.ts'

/** Ends that are softer than the median by more than this are faded, and left out. */
const FADED_DB = 3
const HOP_MS = 10

/** How loud the sound is from place to place. */
export interface HopLoudness {
  /** Frames of one place. */
  readonly hop: number
  /** Power of all channels together, place by place. */
  readonly all: Float64Array
  /** Power of each channel, place by place. */
  readonly powers: readonly Float64Array[]
  /** Median power of each channel, leaving out soft ends. */
  readonly usual: readonly number[]
}

/** How loud sounds that play together are over their first `frames`. */
export function hopLoudness(sources: readonly SampleSource[], frames: number): HopLoudness {
  const rate = sources[0]?.sampleRateHz ?? 1
  const hop = Math.max(1, Math.round((rate * HOP_MS) / 1000))
  const hops = Math.floor(frames / hop)
  const channels = sources.reduce((sum, source) => sum + source.channels, 0)
  const powers = newSamples(channels, hops)
  const all = new Float64Array(hops)
  for (let index = 0; index < hops; index++) {
    stacked(sources, index * hop, hop).forEach((samples, channel) => {
      const power = meanPower(samples, 0, hop)
      const own = powers[channel]
      if (own !== undefined) own[index] = power
      all[index] = (all[index] ?? 0) + power
    })
  }
  const ends = fadedHops(all)
  const loudness = { hop, all, powers, usual: [] }
  return { ...loudness, usual: medians(loudness, ends.head * hop, (hops - ends.tail) * hop) }
}

/** Median power of each channel between two frames. */
export function medians({ powers, hop }: HopLoudness, from: number, to: number): readonly number[] {
  return powers.map((own) => medianOf(own.subarray(Math.ceil(from / hop), Math.floor(to / hop))))
}

function medianOf(values: Float64Array): number {
  return values.slice().sort()[values.length >> 1] ?? 0
}

/** How many frames at either end lie in a fade, at most a quarter of the sound. */
export function fadedEnds({ all, hop }: HopLoudness, frames: number): { head: number; tail: number } {
  const { head, tail } = fadedHops(all)
  return { head: Math.min(head * hop, frames), tail: Math.min(tail * hop, frames) }
}

function fadedHops(all: Float64Array): { head: number; tail: number } {
  const usual = medianOf(all) * 10 ** (-FADED_DB / 10)
  const most = all.length >> 2
  const isLoud = (power: number) => power >= usual
  const head = all.findIndex(isLoud)
  const tail = all.length - 1 - all.findLastIndex(isLoud)
  return { head: Math.min(Math.max(0, head), most), tail: Math.min(Math.max(0, tail), most) }
}

/** All channels of all sources from one place on. */
export function stacked(sources: readonly SampleSource[], from: number, frames: number): Samples {
  return sources.flatMap((source) => {
    const samples = newSamples(source.channels, frames)
    source.read(from, frames, samples)
    return samples
  })
}

export function meanPower(samples: Float64Array, from: number, to: number): number {
  let power = 0
  for (let frame = from; frame < to; frame++) power += (samples[frame] ?? 0) ** 2
  return power / (to - from)
}

/**
 * How far the softer of the first and last 10 ms lies below the median 10 ms, in dB, in the channel where
 * that is most: as a file is measured. Null for silence and for what is shorter.
 */
export function endDipDb(source: SampleSource): number | null {
  const { hop, powers } = hopLoudness([source], source.frames)
  if (hop > source.frames) return null
  const ends = [0, source.frames - hop].map((from) => stacked([source], from, hop))
  const dips = powers.flatMap((own, channel) => {
    const median = medianOf(own)
    if (median <= 1e-12) return []
    const softer = Math.min(...ends.map((end) => meanPower(end[channel] ?? NONE, 0, hop)))
    return [10 * Math.log10(Math.max(softer, 1e-12) / median)]
  })
  return dips.length === 0 ? null : Math.min(...dips)
}

const NONE = new Float64Array(0)
