import { channelMeans } from './dc-removal.ts'
import { newSamples, type SampleSource, type Samples } from './sample-source.ts'

/** Where a loop is cut and how long its ends are blended. */
export interface SeamRepair {
  /** The repaired loop is [startFrame, endFrame) of the sound. */
  readonly startFrame: number
  readonly endFrame: number
  readonly crossfadeFrames: number
  /** Normalised cross-correlation of the two stretches that are blended. */
  readonly correlation: number
}

/** Ends are blended over this time. Common practice, no source: one or two turns of a hum's lowest tone. */
export const CROSSFADE_MS = 30
/** Ends of the loop are looked for within this of the sound's end. */
const SEARCH_MS = 500
const STARTS = 8
const START_STEP_MS = 7
/** In the first search every third sample is compared, at every second place; the best then in full. */
const COARSE_STRIDE = 3
const COARSE_STEP = 2
const FINALISTS = 24
/** Ends that are softer than the median by more than this are faded, and left out. */
const FADED_DB = 3
const FEWEST_FRAMES = 64

/**
 * The repaired loop: its last `crossfadeFrames` run over into what comes just before its first frame,
 * so that the end flows into the beginning. The two stretches are weighted so that their power stays
 * the same, which for stretches alike is a plain blend, and for unlike ones cosine and sine.
 */
export function withRepairedSeam(source: SampleSource, repair: SeamRepair): SampleSource {
  const { startFrame, endFrame, crossfadeFrames } = repair
  const frames = endFrame - startFrame
  const weights = fadeWeights(repair)
  const beforeStart = newSamples(source.channels, crossfadeFrames)
  source.read(startFrame - crossfadeFrames, crossfadeFrames, beforeStart)
  const fadeFrom = frames - crossfadeFrames
  return {
    channels: source.channels,
    frames,
    sampleRateHz: source.sampleRateHz,
    read: (from, count, into) => {
      source.read(from + startFrame, count, into)
      const first = Math.max(0, fadeFrom - from)
      const last = Math.min(count, frames - from)
      into.forEach((samples, channel) => {
        if (from < 0) samples.fill(0, 0, Math.min(count, -from))
        if (from + count > frames) samples.fill(0, Math.max(0, frames - from), count)
        for (let index = first; index < last; index++) {
          const place = from + index - fadeFrom
          samples[index] =
            (samples[index] ?? 0) * (weights.out[place] ?? 0) +
            (beforeStart[channel]?.[place] ?? 0) * (weights.in[place] ?? 0)
        }
      })
    },
  }
}

/**
 * What must be taken from each channel for the repaired loop to lie around zero. Where the two stretches
 * are blended, more than the whole of a constant comes through: their power is kept, not their sum.
 */
export function meansOfLoop(source: SampleSource, repair: SeamRepair): number[] {
  const weights = fadeWeights(repair)
  const frames = repair.endFrame - repair.startFrame
  const throughFade = weights.out.reduce((sum, weight, place) => sum + weight + (weights.in[place] ?? 0), 0)
  const ofConstant = (frames - repair.crossfadeFrames + throughFade) / frames
  return channelMeans(withRepairedSeam(source, repair)).map((mean) => mean / ofConstant)
}

function fadeWeights({ crossfadeFrames, correlation }: SeamRepair): { out: Float64Array; in: Float64Array } {
  const alike = Math.min(1, Math.max(0, correlation))
  const out = new Float64Array(crossfadeFrames)
  const into = new Float64Array(crossfadeFrames)
  for (let place = 0; place < crossfadeFrames; place++) {
    const angle = (Math.PI / 2) * ((place + 0.5) / crossfadeFrames)
    const power = Math.sqrt(1 + alike * Math.sin(2 * angle))
    out[place] = Math.cos(angle) / power
    into[place] = Math.sin(angle) / power
  }
  return { out, in: into }
}

/**
 * Looks near both ends for the place where the sound is most like itself, by normalised
 * cross-correlation over the length of the blend. Layers that play together are given together: they
 * get one answer, so that they stay equally long and in step.
 *
 * @returns undefined where the sounds are too short
 */
export function findSeam(
  sources: readonly SampleSource[],
  crossfadeMs = CROSSFADE_MS,
): SeamRepair | undefined {
  const [first] = sources
  if (first === undefined) return undefined
  const frames = Math.min(...sources.map((source) => source.frames))
  const inFrames = (ms: number) => Math.round((ms / 1000) * first.sampleRateHz)
  const fade = Math.min(inFrames(crossfadeMs), frames >> 3)
  if (frames < FEWEST_FRAMES || fade < 8) return undefined
  const faded = fadedEnds(sources, frames)
  const startFrom = Math.min(Math.max(fade, faded.head), (frames >> 2) + fade)
  const endAt = Math.max(frames - faded.tail, Math.ceil((frames * 3) / 4))
  const endFrom = Math.max(endAt - inFrames(SEARCH_MS), Math.ceil((frames * 5) / 8), startFrom + 2 * fade)
  if (endFrom > endAt) return undefined
  const tail = stacked(sources, endFrom - fade, endAt - endFrom + fade)
  let best: SeamRepair | undefined
  for (let index = 0; index < STARTS; index++) {
    const startFrame = startFrom + index * inFrames(START_STEP_MS)
    if (index > 0 && startFrame > frames >> 2) break
    const found = bestEnd(stacked(sources, startFrame - fade, fade), tail, fade)
    if (best !== undefined && found.correlation <= best.correlation + 1e-9) continue
    best = { startFrame, endFrame: endFrom + found.at, crossfadeFrames: fade, correlation: found.correlation }
  }
  return best === undefined ? undefined : { ...best, correlation: Math.round(best.correlation * 1e4) / 1e4 }
}

/** All channels of all sources from one place on. */
function stacked(sources: readonly SampleSource[], from: number, frames: number): Samples {
  return sources.flatMap((source) => {
    const samples = newSamples(source.channels, frames)
    source.read(from, frames, samples)
    return samples
  })
}

function bestEnd(pattern: Samples, tail: Samples, fade: number): { at: number; correlation: number } {
  const places = (tail[0]?.length ?? 0) - fade + 1
  const power = Math.sqrt(powerUpTo(pattern)[fade] ?? 0)
  const upTo = powerUpTo(tail)
  const at = (place: number, stride: number) => {
    const scale = power * Math.sqrt(Math.max(0, (upTo[place + fade] ?? 0) - (upTo[place] ?? 0)))
    return scale < 1e-12 ? 0 : (productAt(pattern, tail, place, fade, stride) * stride) / scale
  }
  const coarse: { place: number; likeness: number }[] = []
  // From the end on, so that of equal places the longest loop is taken.
  for (let place = places - 1; place >= 0; place -= COARSE_STEP) {
    coarse.push({ place, likeness: at(place, COARSE_STRIDE) })
  }
  coarse.sort((a, b) => b.likeness - a.likeness)
  let best = { at: places - 1, correlation: -1 }
  for (const { place } of coarse.slice(0, FINALISTS)) {
    for (const near of [place + 1, place, place - 1]) {
      if (near < 0 || near >= places) continue
      const correlation = at(near, 1)
      if (correlation > best.correlation + 1e-9) best = { at: near, correlation }
    }
  }
  return best
}

/** Power of all channels from the beginning up to each frame. */
function powerUpTo(samples: Samples): Float64Array {
  const length = samples[0]?.length ?? 0
  const upTo = new Float64Array(length + 1)
  for (let frame = 0; frame < length; frame++) {
    let power = 0
    for (const channel of samples) power += (channel[frame] ?? 0) ** 2
    upTo[frame + 1] = (upTo[frame] ?? 0) + power
  }
  return upTo
}

function productAt(pattern: Samples, tail: Samples, at: number, fade: number, stride: number): number {
  let product = 0
  for (let channel = 0; channel < pattern.length; channel++) {
    const ours = pattern[channel] ?? EMPTY
    const theirs = tail[channel] ?? EMPTY
    for (let index = 0; index < fade; index += stride)
      product += (ours[index] ?? 0) * (theirs[at + index] ?? 0)
  }
  return product
}

const EMPTY = new Float64Array(0)

/** How many frames at either end lie in a fade, at most a quarter of the sound. */
function fadedEnds(sources: readonly SampleSource[], frames: number): { head: number; tail: number } {
  const rate = sources[0]?.sampleRateHz ?? 1
  const hop = Math.max(1, Math.round(rate / 100))
  const hops = Math.floor(frames / hop)
  const powers = new Float64Array(hops)
  for (let index = 0; index < hops; index++) {
    for (const samples of stacked(sources, index * hop, hop)) {
      for (const sample of samples) powers[index] = (powers[index] ?? 0) + sample * sample
    }
  }
  const usual = (powers.slice().sort()[hops >> 1] ?? 0) * 10 ** (-FADED_DB / 10)
  const most = hops >> 2
  const isLoud = (power: number) => power >= usual
  const head = powers.findIndex(isLoud)
  const tail = hops - 1 - powers.findLastIndex(isLoud)
  return { head: Math.min(Math.max(0, head), most) * hop, tail: Math.min(Math.max(0, tail), most) * hop }
}
