/**
 * How a sound passes through a resampler: what is put before and after it, at which rates, and which
 * of the resampler's frames are the sound.
 */
export interface RatePlan {
  /** Rates that the resampler is told; their ratio is what counts. */
  readonly inHz: number
  readonly outHz: number
  /** Frames before and behind the sound: of the loop's own turns, or silence. */
  readonly before: number
  readonly after: number
  /** Frames of the resampler's output that come before the sound, and the sound's own. */
  readonly skip: number
  readonly frames: number
}

/** Longer than the resampler's filter at any of our ratios. */
const SURROUND_FRAMES = 8192
const LOWEST_HZ = 8000

/**
 * A sound that is played once is converted between silence, and has round(frames * to / from) frames.
 * A loop is converted while it turns, by the ratio of its own whole frame counts: a ratio of the two
 * rates would leave a part of a frame over at the seam. That moves its pitch by less than half a frame
 * in its length, and its place in the turn by a part of a frame; both are inaudible.
 */
export function planRate(frames: number, fromHz: number, toHz: number, isLoop: boolean): RatePlan {
  const outFrames = Math.max(1, Math.round((frames * toHz) / fromHz))
  const after = Math.ceil(SURROUND_FRAMES * Math.max(1, fromHz / toHz))
  if (!isLoop || frames === 0) {
    return { inHz: fromHz, outHz: toHz, before: 0, after, skip: 0, frames: outFrames }
  }
  const isWhole = Number.isInteger((frames * toHz) / fromHz)
  const { inHz, outHz } = isWhole ? { inHz: fromHz, outHz: toHz } : ownRatio(frames, outFrames)
  // Whole steps of the nominal ratio, so that the first frame falls on a frame as nearly as can be.
  const step = fromHz / greatestCommonDivisor(fromHz, toHz)
  const before = Math.ceil(after / step) * step
  return { inHz, outHz, before, after, skip: Math.round((before * outFrames) / frames), frames: outFrames }
}

function ownRatio(frames: number, outFrames: number): { inHz: number; outHz: number } {
  const common = greatestCommonDivisor(frames, outFrames)
  const scale = Math.ceil((LOWEST_HZ * common) / Math.min(frames, outFrames))
  return { inHz: (frames / common) * scale, outHz: (outFrames / common) * scale }
}

function greatestCommonDivisor(a: number, b: number): number {
  let [large, small] = [a, b]
  while (small !== 0) [large, small] = [small, large % small]
  return large
}
