import { encodeWave } from './encode-wave.ts'
import type { DemoFont, DemoSound, LoopKind, Plant } from './scenario.ts'
import { seedOfText } from './seeded-noise.ts'
import { synthesiseEffect, type EffectKind } from './synthesise-effect.ts'
import { synthesiseLoop, type LoopShape } from './synthesise-loop.ts'
import { synthesiseTune, type TuneKind } from './synthesise-tune.ts'

const SAMPLE_RATE_HZ = 44_100

type LoopCourse = Pick<LoopShape, 'pitch' | 'grit' | 'shakeHz' | 'shakeDepth'>

const LOOPS: Readonly<Record<LoopKind, LoopCourse & { readonly rmsOfHum: number }>> = {
  hum: { pitch: 1, grit: 1, shakeHz: 0, shakeDepth: 0, rmsOfHum: 1 },
  'swing-low': { pitch: 0.75, grit: 1.5, shakeHz: 1, shakeDepth: 0.2, rmsOfHum: 1.2 },
  'swing-high': { pitch: 1.5, grit: 1.5, shakeHz: 1, shakeDepth: 0.2, rmsOfHum: 1.2 },
  lockup: { pitch: 1.1, grit: 3, shakeHz: 23, shakeDepth: 0.4, rmsOfHum: 1.5 },
}

/** Highest sample of a sound that happens once, against the hum's root mean square. */
const PEAKS_OF_HUM: Readonly<Record<EffectKind | TuneKind, number>> = {
  ignite: 5,
  retract: 4.5,
  swing: 4.5,
  clash: 6.5,
  deflect: 5.5,
  'lockup-begin': 5.5,
  'lockup-end': 4.5,
  boot: 3.5,
  announce: 3.5,
  music: 4,
  'low-cell': 3.5,
}

/** The bytes of one sound of a demo font, with whatever is planted in it. Same input, same bytes, on any machine. */
export function synthesiseSound(font: DemoFont, path: string, sound: DemoSound, planted: Plant): Uint8Array {
  const sampleRateHz = planted.sampleRateHz ?? SAMPLE_RATE_HZ
  const frames = Math.round(sound.seconds * sampleRateHz)
  const shape = { frames, sampleRateHz, seed: seedOfText(path, font.voice.seed) }
  const samples = scaled(font, sound, shape, planted.gain ?? 1)
  return encodeWave(
    planted.cutSeam === true ? cutFarFromStart(samples, sampleRateHz / font.voice.baseHz) : samples,
    {
      sampleRateHz,
      channels: planted.channels ?? 1,
      bitDepth: planted.bitDepth ?? 16,
      chunksBeforeData: planted.chunksBeforeData ?? [],
    },
  )
}

function scaled(
  font: DemoFont,
  sound: DemoSound,
  shape: { readonly frames: number; readonly sampleRateHz: number; readonly seed: number },
  gain: number,
): Float64Array {
  switch (sound.is) {
    case 'hum':
    case 'swing-low':
    case 'swing-high':
    case 'lockup': {
      const { rmsOfHum, ...course } = LOOPS[sound.is]
      return atRms(synthesiseLoop(font.voice, { ...shape, ...course }), gain * font.humRms * rmsOfHum)
    }
    case 'boot':
    case 'announce':
    case 'music':
    case 'low-cell':
      return atPeak(synthesiseTune(font.voice, sound.is, shape), gain * font.humRms * PEAKS_OF_HUM[sound.is])
    default:
      return atPeak(
        synthesiseEffect(font.voice, sound.is, shape),
        gain * font.humRms * PEAKS_OF_HUM[sound.is],
      )
  }
}

function atRms(samples: Float64Array, rms: number): Float64Array {
  let sum = 0
  for (const sample of samples) sum += sample * sample
  const factor = rms / Math.sqrt(sum / samples.length)
  return samples.map((sample) => sample * factor)
}

function atPeak(samples: Float64Array, peak: number): Float64Array {
  let highest = 0
  for (const sample of samples) highest = Math.max(highest, Math.abs(sample))
  return samples.map((sample) => (sample * peak) / highest)
}

/** Shortens a loop by up to one period, to where its last sample is farthest from its first. */
function cutFarFromStart(samples: Float64Array, periodFrames: number): Float64Array {
  const start = samples[0] ?? 0
  let last = samples.length - 1
  for (let frame = samples.length - Math.floor(periodFrames); frame < samples.length; frame++) {
    if (Math.abs((samples[frame] ?? 0) - start) > Math.abs((samples[last] ?? 0) - start)) last = frame
  }
  return samples.slice(0, last + 1)
}
