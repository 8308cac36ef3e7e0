import { describe, expect, test } from 'vitest'
import { channelWeights } from '../../../../app/audio/measure/channel-weights.ts'
import { measured } from '../../../support/inspected.ts'
import { seededRandom, sine } from '../../../support/signals.ts'
import { wavFile } from '../../../support/wav-bytes.ts'

describe('ITU-R BS.1770-5, annex 1: 997 Hz at 0 dBFS in one channel reads -3.01 LKFS', () => {
  test.each([8000, 11025, 22050, 32000, 44100, 48000, 88200, 96000, 176400, 192000])('at %i Hz', (rateHz) => {
    const { integratedLufs } = measured(
      wavFile([sine(rateHz, 997, rateHz * 2, 1)], { rateHz, bits: 24 }),
    ).levels
    expect(Math.abs((integratedLufs ?? Infinity) + 3.01)).toBeLessThanOrEqual(0.05)
  })

  test('a surround channel counts 1.41 times (table 3)', () => {
    const silent = new Float64Array(96000)
    const file = wavFile([silent, silent, silent, silent, sine(48000, 997, 96000, 1), silent], {
      bits: 24,
      channelMask: 0x3f,
    })
    expect(measured(file).levels.integratedLufs).toBeCloseTo(-3.01 + 10 * Math.log10(1.41), 1)
  })
})

test.each([
  { name: 'one channel', channels: 1, mask: 0, want: [1] },
  { name: 'two channels', channels: 2, mask: 3, want: [1, 1] },
  { name: 'four channels without names', channels: 4, mask: 0, want: [1, 1, 1, 1] },
  { name: '5.1 without names', channels: 6, mask: 0, want: [1, 1, 1, 0, 1.41, 1.41] },
  { name: '5.1 with side speakers', channels: 6, mask: 0x60f, want: [1, 1, 1, 0, 1.41, 1.41] },
  {
    name: '7.1: the back speakers stand at 135 degrees',
    channels: 8,
    mask: 0x63f,
    want: [1, 1, 1, 0, 1, 1, 1.41, 1.41],
  },
  { name: 'a mask that names too few speakers', channels: 5, mask: 0x3, want: [1, 1, 1, 1.41, 1.41] },
])('channel weights: $name', ({ channels, mask, want }) => {
  expect(channelWeights(channels, mask)).toEqual(want)
})

describe('the true peak is within 0.1 dB of the wave itself where it holds nothing above 0.45 of the rate', () => {
  test.each(Array.from({ length: 24 }, (_, index) => index + 1))('mix %i', (seed) => {
    const random = seededRandom(seed)
    const frames = 2048
    const partials = Array.from({ length: 1 + Math.floor(random() * 6) }, () => ({
      step: 2 * Math.PI * (0.002 + random() * 0.443),
      gain: 0.05 + random() * 0.14,
      phase: random() * 6.28,
    }))
    const wave = (at: number) => {
      const swell = 0.5 - 0.5 * Math.cos((2 * Math.PI * at) / frames)
      return (
        swell * partials.reduce((sum, { step, gain, phase }) => sum + gain * Math.sin(step * at + phase), 0)
      )
    }
    let truth = 0
    for (let place = 0; place < frames * 64; place++) truth = Math.max(truth, Math.abs(wave(place / 64)))
    const samples = Float64Array.from({ length: frames }, (_, index) => wave(index))
    const { truePeakDbtp } = measured(wavFile([samples], { bits: 32, isFloat: true })).levels
    expect(Math.abs((truePeakDbtp ?? Infinity) - 20 * Math.log10(truth))).toBeLessThanOrEqual(0.1)
  })
})

test('a sound shorter than 400 ms has no integrated loudness; its level is that of the sound in 400 ms of silence', () => {
  const tone = sine(48000, 997, 9600, 0.5)
  const { levels, reasons } = measured(wavFile([tone]))
  const alone = measured(wavFile([sine(48000, 997, 96000, 0.5)])).levels.integratedLufs ?? 0
  expect(levels.integratedLufs).toBeNull()
  expect(reasons.integratedLufs).toBe('shorter-than-400-ms')
  // Half of the window sounds: 3.01 dB less, and a hair more for the ring of the filters.
  expect(Math.abs((levels.momentaryMaxLufs ?? 0) - (alone - 3.01))).toBeLessThan(0.05)
})
