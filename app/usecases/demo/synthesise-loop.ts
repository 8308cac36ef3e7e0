import { seededNoise } from './seeded-noise.ts'
import { sineOfTurns } from './sine-of-turns.ts'
import { waveOfVoice, type Voice } from './voice.ts'

/** How a loop differs from the plain hum of its voice. */
export interface LoopShape {
  readonly frames: number
  readonly sampleRateHz: number
  readonly seed: number
  /** Times the voice's base: 0.5 is an octave lower. */
  readonly pitch: number
  /** Times the voice's grit. */
  readonly grit: number
  /** How often a second the loudness shakes, and how deep (0 to 1). */
  readonly shakeHz: number
  readonly shakeDepth: number
}

/**
 * A sound whose end meets its beginning: every period in it, the wobble's too, fits the length a
 * whole number of times, and its noise runs in a circle.
 */
export function synthesiseLoop(voice: Voice, shape: LoopShape): Float64Array {
  const { frames, sampleRateHz } = shape
  const seconds = frames / sampleRateHz
  const cycles = Math.max(1, Math.round(voice.baseHz * shape.pitch * seconds))
  const wobbles = Math.max(1, Math.round(voice.wobbleHz * seconds))
  const shakes = Math.round(shape.shakeHz * seconds)
  const wave = waveOfVoice(voice)
  const noise = circularNoise(frames, shape.seed)
  const grit = voice.grit * shape.grit
  const samples = new Float64Array(frames)
  for (let frame = 0; frame < frames; frame++) {
    const turn = frame / frames
    const sway = sineOfTurns(wobbles * turn)
    const shake = 1 - shape.shakeDepth * (0.5 + 0.5 * sineOfTurns(shakes * turn))
    const tone = wave(cycles * turn + 0.15 * sway) * (1 + 0.12 * sway)
    samples[frame] = shake * (tone * (1 - grit) + (noise[frame] ?? 0) * grit)
  }
  return samples
}

/** Noise through a one-pole low-pass that ran once around already, so that it has no seam. */
function circularNoise(frames: number, seed: number): Float64Array {
  const noise = seededNoise(seed)
  const samples = new Float64Array(frames)
  for (let frame = 0; frame < frames; frame++) samples[frame] = noise()
  let low = 0
  for (let round = 0; round < 2; round++) {
    const source = round === 0 ? samples : samples.slice()
    for (let frame = 0; frame < frames; frame++) {
      low += 0.2 * ((source[frame] ?? 0) - low)
      if (round === 1) samples[frame] = low * 2.5
    }
  }
  return samples
}
