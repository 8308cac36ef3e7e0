import { withSoftEnds } from './synthesise-effect.ts'
import { waveOfVoice, type Voice } from './voice.ts'

/** Sounds made of notes. */
export const TUNE_KINDS = ['boot', 'announce', 'music', 'low-cell'] as const
export type TuneKind = (typeof TUNE_KINDS)[number]

/** Notes as whole-number ratios over the voice's base: just intonation, so no roots are needed. */
const NOTES: Readonly<Record<TuneKind, readonly number[]>> = {
  boot: [2, 5 / 2, 3, 4],
  announce: [3, 5 / 2, 15 / 4],
  music: [1, 3 / 2, 2, 5 / 4, 5 / 3, 2, 3 / 2, 9 / 8, 4 / 3, 2, 5 / 3, 5 / 4, 3 / 2, 9 / 4, 2, 1],
  'low-cell': [4, 3, 2],
}
const MUSIC_NOTE_SECONDS = 0.75

/** Notes in equal steps over the whole length; music repeats its notes, an octave apart each second time. */
export function synthesiseTune(
  voice: Voice,
  kind: TuneKind,
  shape: { readonly frames: number; readonly sampleRateHz: number },
): Float64Array {
  const { frames, sampleRateHz } = shape
  const notes = NOTES[kind]
  const wave = waveOfVoice({
    ...voice,
    harmonics: voice.harmonics.map((amplitude, index) => amplitude / (index + 1)),
  })
  const stepFrames =
    kind === 'music' ? Math.round(MUSIC_NOTE_SECONDS * sampleRateHz) : Math.ceil(frames / notes.length)
  const samples = new Float64Array(frames)
  let turns = 0
  let drone = 0
  for (let frame = 0; frame < frames; frame++) {
    const step = Math.floor(frame / stepFrames)
    const into = (frame - step * stepFrames) / stepFrames
    const octave = kind === 'music' && Math.floor(step / notes.length) % 2 === 1 ? 2 : 1
    // A motif of its own for each voice: the notes start elsewhere.
    const note = notes[(step + voice.seed) % notes.length] ?? 1
    turns += (voice.baseHz * note * octave) / sampleRateHz
    drone += voice.baseHz / sampleRateHz
    const loudness = Math.min(1, into * 40) * (1 - 0.7 * into) * Math.min(1, (1 - into) * 40)
    samples[frame] = loudness * wave(turns) + (kind === 'music' ? 0.25 * wave(drone) : 0)
  }
  return withSoftEnds(samples, sampleRateHz)
}
