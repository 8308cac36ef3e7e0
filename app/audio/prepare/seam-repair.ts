import { channelMeans } from './dc-removal.ts'
import { fadedEnds, hopLoudness, meanPower, medians, stacked, type HopLoudness } from './hop-loudness.ts'
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
/**
 * A loop starts where neither side of its seam is softer than the median by more: 9 dB would be heard, and
 * the median of what is left is held against it too.
 */
const SOFT_DB = 6
const SOFT_OF_LOOP_DB = 7.5
/** Places further in that are tried where none of the usual ones will do. */
const MORE_STARTS = 24
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
 * Looks near both ends for the place where the sound is most like itself, over the length of the blend:
 * alike in shape and as loud, so that a loop does not run from a pause into a sound. The loop starts
 * where it is not soft. Layers that play together are given together: they get one answer, so that they
 * stay equally long and in step.
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
  const loudness = hopLoudness(sources, frames)
  const faded = fadedEnds(loudness, frames)
  const startFrom = Math.min(Math.max(fade, faded.head), (frames >> 2) + fade)
  const endAt = Math.max(frames - faded.tail, Math.ceil((frames * 3) / 4))
  const endFrom = Math.max(endAt - inFrames(SEARCH_MS), Math.ceil((frames * 5) / 8), startFrom + 2 * fade)
  if (endFrom > endAt) return undefined
  const tail = stacked(sources, endFrom - fade, endAt - endFrom + fade)
  const step = Math.max(1, inFrames(START_STEP_MS))
  let best: Candidate | undefined
  let tried = 0
  for (let at = startFrom; at <= Math.max(startFrom, (frames * 3) >> 3); at += step) {
    const isUsual = at === startFrom || (at <= frames >> 2 && at < startFrom + STARTS * step)
    // Further in only where the loop would be soft at its ends otherwise.
    if (!isUsual && (best?.isLoud === true || tried === MORE_STARTS)) break
    if (endFrom - at < 2 * fade) break
    const power = edgePower(sources, loudness, at, fade)
    const isLoud = power.every((each, channel) => each >= softest(loudness.usual[channel], SOFT_DB))
    if (!isLoud && !isUsual) continue
    if (!isUsual) tried++
    const found = bestEnd(stacked(sources, at - fade, fade), tail, fade)
    const end = endFrom + found.at
    const usual = medians(loudness, at, end)
    const candidate: Candidate = {
      ...{ startFrame: at, endFrame: end, crossfadeFrames: fade, correlation: found.correlation },
      likeness: found.likeness,
      isLoud: isLoud && power.every((each, channel) => each >= softest(usual[channel], SOFT_OF_LOOP_DB)),
      softness: Math.max(...power.map((each, channel) => (usual[channel] ?? 0) / Math.max(each, 1e-30))),
    }
    if (best === undefined || isBetter(candidate, best)) best = candidate
  }
  if (best === undefined) return undefined
  const { startFrame, endFrame, crossfadeFrames, correlation } = best
  return { startFrame, endFrame, crossfadeFrames, correlation: Math.round(correlation * 1e4) / 1e4 }
}

interface Candidate extends SeamRepair {
  readonly likeness: number
  readonly isLoud: boolean
  /** How far the median lies above the loop's ends, as a ratio of powers. */
  readonly softness: number
}

/** A loop that is loud at its ends before one that is not; of those the most alike, else the least soft. */
function isBetter(one: Candidate, other: Candidate): boolean {
  if (one.isLoud !== other.isLoud) return one.isLoud
  return one.isLoud ? one.likeness > other.likeness + 1e-9 : one.softness < other.softness * (1 - 1e-9)
}

function softest(usual: number | undefined, db: number): number {
  return (usual ?? 0) * 10 ** (-db / 10)
}

/** Power of the softer of two stretches, before and behind a place, of each channel. */
function edgePower(
  sources: readonly SampleSource[],
  { hop }: HopLoudness,
  at: number,
  fade: number,
): readonly number[] {
  const edge = Math.min(hop, fade)
  return stacked(sources, at - edge, 2 * edge).map((samples) =>
    Math.min(meanPower(samples, 0, edge), meanPower(samples, edge, 2 * edge)),
  )
}

interface End {
  readonly at: number
  /** How little the two stretches differ: 1 for none, 0 for stretches that have nothing in common. */
  readonly likeness: number
  /** Their normalised cross-correlation, which how loud they are does not change. */
  readonly correlation: number
}

function bestEnd(pattern: Samples, tail: Samples, fade: number): End {
  const places = (tail[0]?.length ?? 0) - fade + 1
  const power = powerUpTo(pattern)[fade] ?? 0
  const upTo = powerUpTo(tail)
  const at = (place: number, stride: number): End => {
    const other = Math.max(0, (upTo[place + fade] ?? 0) - (upTo[place] ?? 0))
    const scale = Math.sqrt(power * other)
    if (scale < 1e-12) return { at: place, likeness: 0, correlation: 0 }
    const product = productAt(pattern, tail, place, fade, stride) * stride
    return { at: place, likeness: (2 * product) / (power + other), correlation: product / scale }
  }
  const coarse: End[] = []
  // From the end on, so that of equal places the longest loop is taken.
  for (let place = places - 1; place >= 0; place -= COARSE_STEP) coarse.push(at(place, COARSE_STRIDE))
  coarse.sort((a, b) => b.likeness - a.likeness)
  let best: End = { at: places - 1, likeness: -Infinity, correlation: -1 }
  for (const { at: place } of coarse.slice(0, FINALISTS)) {
    for (const near of [place + 1, place, place - 1]) {
      if (near < 0 || near >= places) continue
      const end = at(near, 1)
      if (end.likeness > best.likeness + 1e-9) best = end
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
