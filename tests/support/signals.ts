/** A stretch of a test tone: seconds, and its peak in dBFS; null is silence. */
export type Stretch = readonly [seconds: number, peakDbfs: number | null]

export const amplitude = (db: number): number => 10 ** (db / 20)

/** One sine that runs through, its level switched at the edges of the stretches. */
export function tones(rateHz: number, stretches: readonly Stretch[], frequencyHz = 1000): Float64Array {
  const levels = stretches.map(([seconds, db]) => {
    return { frames: Math.round(seconds * rateHz), gain: db === null ? 0 : amplitude(db) }
  })
  const samples = new Float64Array(levels.reduce((sum, { frames }) => sum + frames, 0))
  let at = 0
  for (const { frames, gain } of levels) {
    const end = at + frames
    for (; at < end; at++) samples[at] = gain * Math.sin((2 * Math.PI * frequencyHz * at) / rateHz)
  }
  return samples
}

export function sine(
  rateHz: number,
  frequencyHz: number,
  frames: number,
  gain = 0.5,
  phase = 0,
): Float64Array {
  return Float64Array.from(
    { length: frames },
    (_, index) => gain * Math.sin((2 * Math.PI * frequencyHz * index) / rateHz + phase),
  )
}

/** Repeatable numbers from 0 to 1. */
export function seededRandom(seed: number): () => number {
  let state = seed | 0
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
}

/** Noise that fills -gain to gain evenly. */
export function noise(seed: number, frames: number, gain = 0.5): Float64Array {
  const random = seededRandom(seed)
  return Float64Array.from({ length: frames }, () => (random() * 2 - 1) * gain)
}

export function joined(...parts: readonly (Float64Array | readonly number[])[]): Float64Array {
  return Float64Array.from(parts.flatMap((part) => [...part]))
}
