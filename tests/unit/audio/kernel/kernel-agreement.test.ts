import { expect, test } from 'vitest'
import { plainKernel } from '../../../../app/audio/kernel/plain-kernel.ts'
import { kernelOver, instantiateKernel, openKernel } from '../../../../main/workers/open-kernel.ts'
import { inspected } from '../../../support/inspected.ts'
import { noise, seededRandom, sine } from '../../../support/signals.ts'
import { wavFile, type WavOptions } from '../../../support/wav-bytes.ts'

const fast = openKernel()
const plain = plainKernel(fast.input.length)

/** Every number of two values, by where it stands. */
function numbersIn(value: unknown, path = ''): [string, number | string | null][] {
  if (typeof value === 'number' || typeof value === 'string' || value === null) return [[path, value]]
  return Object.entries(value as object).flatMap(([key, inner]) => numbersIn(inner, `${path}.${key}`))
}

function expectSame(bytes: Uint8Array): void {
  const one = inspected(bytes, fast)
  const other = inspected(bytes, plain)
  const others = new Map(numbersIn(other.inspection))
  for (const [path, value] of numbersIn(one.inspection)) {
    const want = others.get(path)
    if (typeof value === 'number' && typeof want === 'number')
      expect(Math.abs(value - want), path).toBeLessThan(1e-6)
    else expect(value, path).toBe(want)
  }
  expect(one.peaks).toEqual(other.peaks)
}

const formats: readonly (WavOptions & { name: string; channels: number; seconds: number })[] = [
  { name: '8 bit, one channel, 22.05 kHz', bits: 8, rateHz: 22050, channels: 1, seconds: 1.3 },
  { name: '16 bit, one channel, 44.1 kHz', bits: 16, rateHz: 44100, channels: 1, seconds: 4.1 },
  { name: '16 bit, two channels, 48 kHz', bits: 16, rateHz: 48000, channels: 2, seconds: 3.2 },
  { name: '24 bit, three channels, 32 kHz', bits: 24, rateHz: 32000, channels: 3, seconds: 1.1 },
  { name: '24 bit, six channels, 48 kHz', bits: 24, rateHz: 48000, channels: 6, seconds: 0.7 },
  { name: '32 bit, eight channels, 8 kHz', bits: 32, rateHz: 8000, channels: 8, seconds: 0.9 },
  {
    name: '32-bit floats, one channel, 96 kHz',
    bits: 32,
    isFloat: true,
    rateHz: 96000,
    channels: 1,
    seconds: 0.8,
  },
  {
    name: '64-bit floats, two channels, 192 kHz',
    bits: 64,
    isFloat: true,
    rateHz: 192000,
    channels: 2,
    seconds: 0.5,
  },
  { name: '16 bit, an odd rate of 11,025 Hz', bits: 16, rateHz: 11025, channels: 1, seconds: 2.7 },
  { name: '16 bit, a rate too low for loudness', bits: 16, rateHz: 1234, channels: 1, seconds: 1 },
]

test.each(formats)(
  'the fast and the plain kernel agree on $name',
  ({ name: _, channels, seconds, ...options }) => {
    const frames = Math.round((options.rateHz ?? 48000) * seconds)
    expectSame(
      wavFile(
        Array.from({ length: channels }, (_, channel) => noise(channel + 3, frames, 0.9)),
        options,
      ),
    )
  },
)

test.each([0, 1, 2, 3, 5, 17, 255, 256, 257, 4095, 4097])('they agree on a sound of %i frames', (frames) => {
  expectSame(wavFile([noise(frames, frames, 1)], { rateHz: 44100 }))
})

test('they agree on 40 random mixes of tones, clipped ones among them', () => {
  const random = seededRandom(11)
  for (let round = 0; round < 40; round++) {
    const rateHz = [22050, 44100, 48000][round % 3] ?? 48000
    const frames = Math.round(rateHz * (0.2 + random() * 0.6))
    const gain = 0.3 + random() * 1.5
    const low = sine(rateHz, 40 + random() * 400, frames, gain / 2, random() * 6)
    const high = sine(rateHz, 400 + random() * rateHz * 0.4, frames, gain / 2, random() * 6)
    expectSame(wavFile([low.map((sample, index) => sample + (high[index] ?? 0))], { rateHz }))
  }
})

test('leaving out what cannot hold the true peak never changes it', () => {
  const exports = instantiateKernel()
  const kernel = kernelOver(exports)
  const random = seededRandom(5)
  for (let round = 0; round < 60; round++) {
    const rateHz = 44100
    const frames = 3000 + Math.floor(random() * 20000)
    const tone = sine(rateHz, 30 + random() ** 3 * 21000, frames, 0.2 + random() * 0.8, random() * 6)
    const hiss = noise(round, frames, random() ** 4)
    const bytes = wavFile(
      [tone.map((sample, index) => (sample + (hiss[index] ?? 0)) * Math.min(1, index / 9000))],
      { rateHz },
    )
    exports.setSkipping(true)
    const skipping = inspected(bytes, kernel).inspection.measures?.levels.truePeakDbtp
    exports.setSkipping(false)
    const searchingAll = inspected(bytes, kernel).inspection.measures?.levels.truePeakDbtp
    expect(skipping).toBe(searchingAll)
  }
})
