import type { SampleSource, Samples } from './sample-source.ts'

/** Length of the fade at an end that was cut, so that the cut is no click. Common practice, no source. */
const TRIM_FADE_MS = 2

/**
 * The sound without its first and last milliseconds; an end that is cut gets a raised-cosine fade of
 * 2 ms. At least one frame stays.
 */
export function trimmed(source: SampleSource, leadMs: number, tailMs: number): SampleSource {
  const kept = keptOf(source, leadMs, tailMs)
  const { frames } = kept
  const { first, cutBehind } = trimBounds(source.frames, source.sampleRateHz, leadMs, tailMs)
  const fade = Math.min(Math.round((TRIM_FADE_MS / 1000) * source.sampleRateHz), frames >> 1)
  return {
    ...kept,
    read: (from, count, into) => {
      kept.read(from, count, into)
      if (first > 0) fadeEdge(into, from, count, (frame) => frame, fade)
      if (cutBehind > 0) fadeEdge(into, from, count, (frame) => frames - 1 - frame, fade)
    },
  }
}

/** What trimming leaves, before its fades. */
export function keptOf(source: SampleSource, leadMs: number, tailMs: number): SampleSource {
  const { first, cutBehind } = trimBounds(source.frames, source.sampleRateHz, leadMs, tailMs)
  const frames = source.frames - first - cutBehind
  return {
    ...source,
    frames,
    read: (from, count, into) => {
      source.read(from + first, count, into)
      if (from < 0) clear(into, 0, Math.min(count, -from))
      if (from + count > frames) clear(into, Math.max(0, frames - from), count)
    },
  }
}

/** Frames that are cut off before and behind. */
export function trimBounds(
  frames: number,
  sampleRateHz: number,
  leadMs: number,
  tailMs: number,
): { readonly first: number; readonly cutBehind: number } {
  const inFrames = (ms: number) => Math.round((ms / 1000) * sampleRateHz)
  const first = Math.min(Math.max(0, frames - 1), inFrames(leadMs))
  return { first, cutBehind: Math.max(0, Math.min(frames - first - 1, inFrames(tailMs))) }
}

function clear(into: Samples, from: number, to: number): void {
  for (const samples of into) samples.fill(0, from, to)
}

function fadeEdge(
  into: Samples,
  from: number,
  count: number,
  distance: (frame: number) => number,
  fade: number,
): void {
  for (let index = 0; index < count; index++) {
    const away = distance(from + index)
    if (away < 0 || away >= fade) continue
    const weight = 0.5 - 0.5 * Math.cos((Math.PI * (away + 0.5)) / fade)
    for (const samples of into) samples[index] = (samples[index] ?? 0) * weight
  }
}
