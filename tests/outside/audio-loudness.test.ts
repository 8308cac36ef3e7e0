import { spawnSync } from 'node:child_process'
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { testAgainst } from '../support/reference-tools.ts'
import { inspected, measured } from '../support/inspected.ts'
import { ALSA, PROMPTS } from '../support/real-sounds.ts'
import { noise, seededRandom, sine } from '../support/signals.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'
import { wavFile } from '../support/wav-bytes.ts'

const SIGNALS = 200
const TOLERANCE_LU = 0.05

interface RandomSignal {
  readonly rateHz: number
  readonly channels: Float64Array[]
}

/** Tones and noise whose level moves, so that the gates have something to do. */
function randomSignal(seed: number): RandomSignal {
  const random = seededRandom(seed)
  const rateHz = [48000, 44100, 32000, 22050][seed % 4] ?? 48000
  const frames = Math.round(rateHz * (0.6 + random() * 3.5))
  const channels = Array.from({ length: 1 + (seed % 2) }, (_, channel) => {
    const tone = sine(rateHz, 60 + random() ** 2 * rateHz * 0.35, frames, 0.05 + random() * 0.4, random() * 6)
    const hiss = noise(seed * 7 + channel, frames, random() ** 2 * 0.3)
    const swell = 0.5 + random() * 3
    return tone.map((sample, index) => {
      const level = 0.55 + 0.45 * Math.sin((index / rateHz) * swell * 6.28)
      return (sample + (hiss[index] ?? 0)) * level ** 3
    })
  })
  return { rateHz, channels }
}

/** Integrated loudness by ffmpeg's meter, which prints it to a tenth; the frame log has three places. */
function ffmpegIntegrated(path: string): number {
  const args = [
    '-hide_banner',
    '-nostdin',
    '-i',
    path,
    '-af',
    'ebur128=metadata=1,ametadata=print:key=lavfi.r128.I:file=-',
    '-f',
    'null',
    '-',
  ]
  const { stdout } = spawnSync('ffmpeg', args, { encoding: 'utf8', maxBuffer: 1 << 26 })
  const readings = [...stdout.matchAll(/lavfi\.r128\.I=(-?[\d.]+)/g)]
  return Number(readings.at(-1)?.[1])
}

interface Reference {
  readonly ebur128_integrated_mono: (rate: number, samples: Float32Array) => number
  readonly ebur128_integrated_stereo: (rate: number, left: Float32Array, right: Float32Array) => number
}

async function ebur128(): Promise<Reference> {
  return (await import('ebur128-wasm/ebur128_wasm.js')) as unknown as Reference
}

describe('integrated loudness of random signals is that of others, within 0.05 LU', () => {
  test('by ebur128-wasm', async () => {
    const reference = await ebur128()
    let widest = 0
    for (let seed = 1; seed <= SIGNALS; seed++) {
      const { rateHz, channels } = randomSignal(seed)
      const [left = new Float32Array(), right] = channels.map((channel) => Float32Array.from(channel))
      const want =
        right === undefined
          ? reference.ebur128_integrated_mono(rateHz, left)
          : reference.ebur128_integrated_stereo(rateHz, left, right)
      const { integratedLufs } = measured(wavFile(channels, { rateHz, bits: 32, isFloat: true })).levels
      widest = Math.max(widest, Math.abs((integratedLufs ?? Infinity) - want))
    }
    expect(widest).toBeLessThanOrEqual(TOLERANCE_LU)
  })

  testAgainst('ffmpeg')('by the ebur128 filter of ffmpeg, at 48 kHz where it does not resample', () => {
    const folder = temporaryFolder()
    let widest = 0
    for (let seed = 1; seed <= SIGNALS; seed++) {
      const { channels } = randomSignal(seed * 4)
      const bytes = wavFile(channels, { rateHz: 48000, bits: 24 })
      const path = join(folder, 'signal.wav')
      writeFileSync(path, bytes)
      const { integratedLufs } = measured(readFileSync(path)).levels
      widest = Math.max(widest, Math.abs((integratedLufs ?? Infinity) - ffmpegIntegrated(path)))
    }
    expect(widest).toBeLessThanOrEqual(TOLERANCE_LU)
  })
})

describe('integrated loudness of real sounds is that of others, within 0.05 LU', () => {
  /** Voices and noise in one channel of 16 bits: 48 kHz, and 8 kHz. */
  const paths = () =>
    [ALSA, PROMPTS].flatMap((folder) =>
      readdirSync(folder)
        .filter((name) => name.endsWith('.wav'))
        .sort()
        .slice(0, 60)
        .map((name) => join(folder, name)),
    )

  testAgainst(ALSA, PROMPTS)('by ebur128-wasm', async () => {
    const reference = await ebur128()
    const apart: string[] = []
    let compared = 0
    for (const path of paths()) {
      const bytes = readFileSync(path)
      const { facts, measures } = inspected(bytes).inspection
      const data = facts?.chunks.find(({ id }) => id === 'data')
      if (facts?.frames == null || facts.frames < 0.4 * (facts.sampleRateHz ?? 0) || data === undefined)
        continue
      const samples = Float32Array.from(
        { length: facts.frames },
        (_, index) => bytes.readInt16LE(data.offset + 8 + index * 2) / 32768,
      )
      const want = reference.ebur128_integrated_mono(facts.sampleRateHz ?? 0, samples)
      const got = measures?.levels.integratedLufs ?? -Infinity
      if (!Number.isFinite(want) && !Number.isFinite(got)) continue
      compared++
      if (!(Math.abs(got - want) <= TOLERANCE_LU)) apart.push(`${path}: ${got} and ${want}`)
    }
    expect(apart).toEqual([])
    expect(compared).toBeGreaterThan(50)
  })

  testAgainst('ffmpeg', ALSA)('by the ebur128 filter of ffmpeg, at 48 kHz', () => {
    const apart = paths()
      .filter((path) => path.startsWith(ALSA))
      .map((path) => ({
        path,
        got: measured(readFileSync(path)).levels.integratedLufs ?? Infinity,
        want: ffmpegIntegrated(path),
      }))
      .filter(({ got, want }) => !(Math.abs(got - want) <= TOLERANCE_LU))
    expect(apart).toEqual([])
  })
})
