import { seededNoise } from './seeded-noise.ts'
import { sineOfTurns } from './sine-of-turns.ts'
import { waveOfVoice, type Voice } from './voice.ts'

/** Sounds that happen once. `lockup-begin` and the like are stretches around a loop. */
export const EFFECT_KINDS = [
  'ignite',
  'retract',
  'swing',
  'clash',
  'deflect',
  'lockup-begin',
  'lockup-end',
] as const
export type EffectKind = (typeof EFFECT_KINDS)[number]

/** What a kind does over its course; `t` runs from 0 to 1. */
interface Course {
  /** Pitch against the voice's base. */
  readonly pitch: (t: number) => number
  readonly loudness: (t: number) => number
  readonly grit: (t: number) => number
  /** Pitches of ringing overtones besides, with no simple ratio between them; none for tones. */
  readonly ringing: readonly number[]
}

const fading = (t: number) => (1 - t) * (1 - t)
const bell = (t: number) => 4 * t * (1 - t)

const COURSES: Readonly<Record<EffectKind, Course>> = {
  ignite: {
    pitch: (t) => 0.4 + 0.6 * t * (2 - t),
    loudness: (t) => (t < 0.25 ? 1 : 1 - 0.6 * (t - 0.25)),
    grit: (t) => 0.9 * fading(t) + 0.1,
    ringing: [],
  },
  retract: {
    pitch: (t) => 1 - 0.65 * t,
    loudness: (t) => 1 - t * t,
    grit: (t) => 0.1 + 0.5 * t,
    ringing: [],
  },
  swing: {
    pitch: (t) => 1 + 0.35 * bell(t),
    loudness: (t) => 0.15 + 0.85 * bell(t) * bell(t),
    grit: (t) => 0.3 + 0.4 * bell(t),
    ringing: [],
  },
  clash: {
    pitch: () => 1.5,
    loudness: (t) => fading(t) * (1 - t),
    grit: (t) => 0.8 - 0.5 * t,
    ringing: [5.3, 8.9, 13.7],
  },
  deflect: {
    pitch: (t) => 5 - 3.5 * t,
    loudness: (t) => fading(t),
    grit: (t) => 0.45 * (1 - t),
    ringing: [11.3],
  },
  'lockup-begin': {
    pitch: (t) => 1.4 - 0.4 * t,
    loudness: (t) => 1 - 0.35 * t,
    grit: (t) => 0.9 - 0.3 * t,
    ringing: [7.1],
  },
  'lockup-end': {
    pitch: (t) => 1 - 0.3 * t,
    loudness: (t) => fading(t),
    grit: (t) => 0.6 - 0.3 * t,
    ringing: [],
  },
}

/** Attack long enough not to click and short enough that the board answers at once. */
const ATTACK_SECONDS = 0.002
const RELEASE_SECONDS = 0.02

/** One sound of the kind, at any peak. Shape: `frames` samples at `sampleRateHz`. */
export function synthesiseEffect(
  voice: Voice,
  kind: EffectKind,
  shape: { readonly frames: number; readonly sampleRateHz: number; readonly seed: number },
): Float64Array {
  const { frames, sampleRateHz, seed } = shape
  const course = COURSES[kind]
  const wave = waveOfVoice(voice)
  const noise = seededNoise(seed)
  // A few per cent up or down, so that the takes of one role differ.
  const tuning = 1 + 0.06 * noise()
  const samples = new Float64Array(frames)
  let turns = 0
  let hiss = 0
  for (let frame = 0; frame < frames; frame++) {
    const t = frame / frames
    turns += (voice.baseHz * tuning * course.pitch(t)) / sampleRateHz
    hiss += 0.35 * (noise() - hiss)
    let tone = wave(turns)
    for (const ratio of course.ringing) {
      tone += 0.6 * (1 - t) * sineOfTurns((frame * voice.baseHz * tuning * ratio) / sampleRateHz)
    }
    const grit = course.grit(t)
    samples[frame] = course.loudness(t) * (tone * (1 - grit) + 1.6 * hiss * grit)
  }
  return withSoftEnds(samples, sampleRateHz)
}

/** Lets a sound begin and end at nought without a click. */
export function withSoftEnds(samples: Float64Array, sampleRateHz: number): Float64Array {
  const attack = Math.round(ATTACK_SECONDS * sampleRateHz)
  const release = Math.round(RELEASE_SECONDS * sampleRateHz)
  return samples.map(
    (sample, frame) =>
      sample * Math.min(1, (frame + 1) / attack) * Math.min(1, (samples.length - frame) / release),
  )
}
