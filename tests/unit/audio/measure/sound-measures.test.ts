import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { measured } from '../../../support/inspected.ts'
import { joined, noise, sine } from '../../../support/signals.ts'
import { wavFile } from '../../../support/wav-bytes.ts'

const RATE = 44100
const measure = (...channels: Float64Array[]) =>
  measured(wavFile(channels, { rateHz: RATE, bits: 32, isFloat: true }))
const silence = (frames: number) => new Float64Array(frames)

describe('the seam of a loop', () => {
  const period = 100

  test('whole periods meet with a step like any other', () => {
    const { seam } = measure(sine(RATE, RATE / period, period * 40, 0.7))
    // The largest steps of a sine lie 0.01 % above their 99th percentile.
    expect(seam.jumpRatio).toBeLessThanOrEqual(1.001)
  })

  test.each([0.05, 0.1, 0.15, 0.25])(
    'cut %f of a period off, the jump is as high as the wave there',
    (share) => {
      const frames = period * 40 + Math.round(period * share)
      const { seam } = measure(sine(RATE, RATE / period, frames, 0.7))
      const height = Math.abs(Math.sin((2 * Math.PI * (frames - 1)) / period))
      const usualStep = (2 * Math.PI) / period
      expect(Math.abs((seam.jumpRatio ?? 0) / (height / usualStep) - 1)).toBeLessThan(0.02)
    },
  )

  test('of two channels the worse one counts', () => {
    const clean = sine(RATE, RATE / period, period * 40 + 25, 0)
    const cut = sine(RATE, RATE / period, period * 40 + 25, 0.7)
    expect(measure(clean, cut).seam.jumpRatio).toBe(measure(cut).seam.jumpRatio)
  })

  test.each([3, 6, 12, 24])('a hum whose ends are faded by %i dB has that dip', (db) => {
    const hum = sine(RATE, 441, RATE, 0.5)
    const edge = RATE / 100
    const faded = hum.map((sample, index) => (index < edge ? sample * 10 ** (-db / 20) : sample))
    expect(Math.abs((measure(faded).seam.dipDb ?? 0) + db)).toBeLessThan(0.5)
  })
})

describe('where a sound begins and ends', () => {
  test.each([0, 1, 37, 255, 256, 257, 5000])('a click after exactly %i samples begins there', (lead) => {
    const { onsetMs, leadingSilenceMs } = measure(joined(silence(lead), [0.8], silence(3000)))
    expect(onsetMs).toBeCloseTo((lead / RATE) * 1000, 9)
    expect(leadingSilenceMs).toBeCloseTo((lead / RATE) * 1000, 9)
  })

  test('what is 50 dB below the peak is no onset, and no silence either', () => {
    const quiet = sine(RATE, 500, 5000, 0.0025, 1.5)
    const { onsetMs, leadingSilenceMs } = measure(joined(quiet, sine(RATE, 500, 5000, 0.8, 1.5)))
    expect(onsetMs).toBeCloseTo((5000 / RATE) * 1000, 1)
    expect(leadingSilenceMs).toBe(0)
  })

  test('a slow rise begins where it first passes 1 % of the peak that comes later', () => {
    const rise = Float64Array.from({ length: 200000 }, (_, index) => (index / 200000) ** 2)
    const want = rise.findIndex((sample) => sample > Math.fround(rise[199999] ?? 0) * 0.01)
    expect(measure(rise).onsetMs).toBeCloseTo((want / RATE) * 1000, 9)
  })

  test('silence all through is silence on both sides, and no onset', () => {
    const { onsetMs, leadingSilenceMs, trailingSilenceMs, reasons } = measure(silence(RATE))
    expect([onsetMs, leadingSilenceMs, trailingSilenceMs]).toEqual([null, 1000, 1000])
    expect(reasons.onsetMs).toBe('silent')
  })
})

describe('low share', () => {
  test.each([
    { name: 'a 30 Hz tone lies almost wholly below 200 Hz', hz: 30, low: 0.99, high: 1 },
    { name: 'a 200 Hz tone loses half', hz: 200, low: 0.49, high: 0.51 },
    { name: 'a 3 kHz tone loses almost nothing', hz: 3000, low: 0, high: 0.001 },
  ])('$name', ({ hz, low, high }) => {
    const { lowShare } = measure(sine(RATE, hz, RATE * 2, 0.5))
    expect(lowShare).toBeGreaterThanOrEqual(low)
    expect(lowShare).toBeLessThanOrEqual(high)
  })
})

describe('clipped runs', () => {
  const at = (...values: number[]) =>
    measured(wavFile([joined(silence(10), values, silence(10))])).clippedRuns
  test.each([
    { name: 'two samples at full scale are none', values: [1, 1], want: 0 },
    { name: 'three in a row are one', values: [1, 1, 1], want: 1 },
    { name: 'nine in a row are one', values: [-1, -1, -1, -1, -1, -1, -1, -1, -1], want: 1 },
    { name: 'two runs with a breath between are two', values: [1, 1, 1, 0, -1, -1, -1], want: 2 },
  ])('$name', ({ values, want }) => expect(at(...values)).toBe(want))

  test('a run over the border of two reads is one', () => {
    const frames = (1 << 17) + 5000
    const flat = Float64Array.from({ length: frames }, (_, index) =>
      Math.abs(index - (1 << 17)) < 300 ? 1 : 0.1,
    )
    expect(measured(wavFile([flat])).clippedRuns).toBe(1)
  })

  test('full scale of fewer valid bits is their own highest value', () => {
    const top = 1 - 2 ** -11
    const file = wavFile([joined(silence(5), [top, top, top], silence(5))], { bits: 16, validBits: 12 })
    expect(measured(file).clippedRuns).toBe(1)
  })
})

describe('nothing that JSON cannot say', () => {
  const sounds = [
    { name: 'no sample', file: wavFile([[]]) },
    { name: 'one sample', file: wavFile([[0.5]]) },
    { name: 'one sample of silence', file: wavFile([[0]]) },
    { name: 'a second of silence', file: wavFile([silence(48000)]) },
    { name: 'a constant', file: wavFile([new Float64Array(48000).fill(0.25)]) },
    {
      name: 'floats of not a number',
      file: wavFile([new Float64Array(4800).fill(NaN)], { bits: 32, isFloat: true }),
    },
  ]
  test.each(sounds)('$name: every number is finite, and every null has its reason', ({ file }) => {
    const { reasons, levels, seam, ...rest } = measured(file)
    const flat = { ...levels, ...rest, 'seam.jumpRatio': seam.jumpRatio, 'seam.dipDb': seam.dipDb }
    for (const [key, value] of Object.entries(flat)) {
      if (value === null) expect(reasons[key], key).toMatch(/^[a-z0-9-]+$/)
      else expect(Number.isFinite(value), key).toBe(true)
    }
  })
})

describe('laws', () => {
  const sounds = fc.record({
    seed: fc.integer(),
    frames: fc.integer({ min: 4000, max: 60000 }),
    hz: fc.integer({ min: 60, max: 9000 }),
  })
  const make = ({ seed, frames, hz }: { seed: number; frames: number; hz: number }) => {
    const hiss = noise(seed, frames, 0.05)
    return sine(RATE, hz, frames, 0.2).map((sample, index) => sample + (hiss[index] ?? 0))
  }
  const few = { numRuns: 25 }

  test('a gain changes every level by exactly that gain', () => {
    fc.assert(
      fc.property(sounds, fc.double({ min: -20, max: 10, noNaN: true }), (sound, gainDb) => {
        const before = measure(make(sound)).levels
        const after = measure(make(sound).map((sample) => sample * 10 ** (gainDb / 20))).levels
        for (const key of ['momentaryMaxLufs', 'truePeakDbtp', 'samplePeakDbfs', 'rmsDbfs'] as const) {
          expect((after[key] ?? 0) - (before[key] ?? 0)).toBeCloseTo(gainDb, 3)
        }
      }),
      few,
    )
  })

  test('played backwards it has the same sample peak, RMS, DC and clipped runs', () => {
    fc.assert(
      fc.property(sounds, (sound) => {
        const loud = make(sound).map((sample) => Math.max(-1, Math.min(1, sample * 4.5)))
        const forth = measure(loud)
        const back = measure(loud.toReversed())
        expect(back.levels.samplePeakDbfs).toBe(forth.levels.samplePeakDbfs)
        expect(back.levels.rmsDbfs).toBeCloseTo(forth.levels.rmsDbfs ?? 0, 9)
        expect(back.dcOffset).toBeCloseTo(forth.dcOffset ?? 0, 9)
        expect(back.clippedRuns).toBe(forth.clippedRuns)
      }),
      few,
    )
  })

  test('silence put behind it lengthens the trailing silence by its length, and nothing else in front', () => {
    fc.assert(
      fc.property(sounds, fc.integer({ min: 1, max: 9000 }), (sound, frames) => {
        const before = measure(make(sound))
        const after = measure(joined(make(sound), silence(frames)))
        const longer = (after.trailingSilenceMs ?? 0) - (before.trailingSilenceMs ?? 0)
        expect(longer).toBeCloseTo((frames / RATE) * 1000, 6)
        expect(after.leadingSilenceMs).toBe(before.leadingSilenceMs)
        expect(after.onsetMs).toBe(before.onsetMs)
      }),
      few,
    )
  })

  test('an offset is found as the DC of the channel where it is largest', () => {
    fc.assert(
      fc.property(fc.double({ min: -0.4, max: 0.4, noNaN: true }), (offset) => {
        const tone = sine(RATE, 441, RATE, 0.3)
        const { dcOffset } = measure(
          tone,
          tone.map((sample) => sample + offset),
        )
        expect(dcOffset).toBeCloseTo(offset, 5)
      }),
      few,
    )
  })
})
