import fc from 'fast-check'
import { expect, test } from 'vitest'
import { TruePeakSearch } from '../../../../app/audio/kernel/true-peak-search.ts'
import { limited } from '../../../../app/audio/prepare/limiter.ts'
import { newSamples, streamOf } from '../../../../app/audio/prepare/sample-source.ts'
import { noise, samplesOf, sound } from '../../../support/prepare-by-recipe.ts'

function limit(samples: Float64Array[], ceiling: number) {
  const frames = samples[0]?.length ?? 0
  const stream = limited(streamOf(sound(samples)), ceiling)
  const out = newSamples(samples.length, frames)
  // In odd pieces, as no caller would: the pieces must not matter.
  for (let at = 0; at < frames; at += 5003) {
    const some = Math.min(5003, frames - at)
    stream.next(
      some,
      out.map((channel) => channel.subarray(at, at + some)),
    )
  }
  return { out, lowest: stream.lowestGain() }
}

function truePeakDb(samples: Float64Array): number {
  const search = new TruePeakSearch(4096)
  for (let at = 0; at < samples.length; at += 4096) {
    search.add(Float32Array.from(samples.subarray(at, at + 4096)))
  }
  return 20 * Math.log10(search.finish())
}

test('below the ceiling every sample comes out as it went in', () => {
  const quiet = noise(30_000).map((sample) => sample * 0.3)
  const { out, lowest } = limit([quiet], 0.9)
  expect(out[0]).toEqual(quiet)
  expect(lowest).toBe(1)
})

test('the true peak is held, whatever comes in', () => {
  const inputs = fc.record({
    seed: fc.integer({ min: 1, max: 1e6 }),
    hz: fc.integer({ min: 20, max: 20_000 }),
    gain: fc.double({ min: 0.2, max: 4, noNaN: true }),
    noisy: fc.boolean(),
  })
  fc.assert(
    fc.property(inputs, ({ seed, hz, gain, noisy }) => {
      const rough = noise(12_000, seed)
      const samples = samplesOf(12_000, (frame) => {
        const burst = frame % 4000 < 900 ? 1 : 0.2
        return (
          gain * burst * (noisy ? (rough[frame] ?? 0) : Math.sin((2 * Math.PI * hz * frame) / 44_100 + seed))
        )
      })
      const { out } = limit([samples], 0.8)
      expect(truePeakDb(out[0] ?? samples)).toBeLessThanOrEqual(20 * Math.log10(0.8) + 0.05)
    }),
    { numRuns: 40 },
  )
})

test('the gain it reports is the gain it used', () => {
  const loud = samplesOf(20_000, (frame) => Math.sin((2 * Math.PI * 440 * frame) / 44_100))
  const { out, lowest } = limit([loud], 0.5)
  expect(lowest).toBeCloseTo(0.5, 2)
  const middle = out[0]?.subarray(9000, 11_000) ?? loud
  expect(Math.max(...middle)).toBeCloseTo(0.5, 2)
})

test('both channels share one gain, so that the picture does not lean', () => {
  const loud = noise(10_000).map((sample) => sample * 2)
  const soft = noise(10_000, 9).map((sample) => sample * 0.1)
  const { out } = limit([loud, soft], 0.7)
  for (let frame = 0; frame < 10_000; frame += 97) {
    const gain = (out[0]?.[frame] ?? 0) / (loud[frame] ?? 1)
    expect(out[1]?.[frame]).toBeCloseTo((soft[frame] ?? 0) * gain, 9)
  }
})

test('it is transparent away from a peak: a click lowers nothing 0.6 s later', () => {
  const samples = samplesOf(60_000, (frame) =>
    frame === 20_000 ? 1 : 0.3 * Math.sin((2 * Math.PI * 300 * frame) / 44_100),
  )
  const { out } = limit([samples], 0.5)
  expect(out[0]?.subarray(0, 19_700)).toEqual(samples.subarray(0, 19_700))
  for (let frame = 50_000; frame < 60_000; frame += 33) {
    expect(out[0]?.[frame]).toBeCloseTo(samples[frame] ?? 0, 4)
  }
})
