import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkPhase, folded, oneChannel, spread } from '../../../../app/audio/prepare/channels.ts'
import { channelMeans, withoutOffset } from '../../../../app/audio/prepare/dc-removal.ts'
import { highPassed } from '../../../../app/audio/prepare/high-pass.ts'
import { turning } from '../../../../app/audio/prepare/loop-turns.ts'
import { planRate } from '../../../../app/audio/prepare/rate-plan.ts'
import {
  newSamples,
  readAll,
  streamOf,
  type SampleSource,
} from '../../../../app/audio/prepare/sample-source.ts'
import { SeededDither } from '../../../../app/audio/prepare/seeded-dither.ts'
import { trimmed } from '../../../../app/audio/prepare/trim.ts'
import { noise, samplesOf, SEED, sound } from '../../../support/prepare-by-recipe.ts'

const only = (source: SampleSource) => readAll(source)[0] ?? new Float64Array()
const power = (samples: Float64Array) =>
  samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length
const sine = (frames: number, hz: number, rate = 44_100, amplitude = 0.5) =>
  samplesOf(frames, (frame) => amplitude * Math.sin((2 * Math.PI * hz * frame) / rate))

describe('folding channels', () => {
  test.each([
    { name: 'two equal channels come out 3 dB louder', right: sine(44_100, 500), db: 3.01 },
    { name: 'a channel beside silence comes out 3 dB softer', right: new Float64Array(44_100), db: -3.01 },
  ])('$name', ({ right, db }) => {
    const left = sine(44_100, 500)
    const mono = only(folded(sound([left, right]), 1))
    expect(10 * Math.log10(power(mono) / power(left))).toBeCloseTo(db, 2)
  })

  test('unrelated channels keep their mean power', () => {
    const channels = [1, 2, 3, 4, 5, 6, 7, 8].map((seed) => noise(100_000, seed * 7919))
    const { sumDb, cancels } = checkPhase(sound(channels))
    expect(Math.abs(sumDb ?? 99)).toBeLessThan(0.3)
    expect(cancels).toBe(false)
  })

  test('channels that cancel are found, and the louder one is named', () => {
    const left = noise(20_000)
    const check = checkPhase(sound([left, left.map((sample) => -1.1 * sample)]))
    expect(check).toMatchObject({ cancels: true, loudest: 1 })
  })

  test('silence cancels nothing', () => {
    expect(checkPhase(sound([new Float64Array(10), new Float64Array(10)]))).toMatchObject({
      sumDb: null,
      cancels: false,
    })
  })

  test('one kept channel is that channel, sample for sample', () => {
    const right = noise(5000, 3)
    expect(only(oneChannel(sound([noise(5000), right]), 1))).toEqual(right)
  })

  test('a channel given to two is as loud as it was from one', () => {
    const [left, right] = readAll(spread(sound(sine(1000, 500)), 2))
    expect(left).toEqual(right)
    expect(power(left ?? right ?? new Float64Array(1)) * 2).toBeCloseTo(power(sine(1000, 500)), 9)
  })
})

test('taking out DC leaves a mean of nothing and changes nothing else', () => {
  const lifted = noise(30_000).map((sample) => sample * 0.3 + 0.2)
  const source = sound(lifted)
  const offsets = channelMeans(source)
  expect(offsets[0]).toBeCloseTo(0.2, 2)
  const flat = withoutOffset(source, offsets)
  expect(channelMeans(flat)[0]).toBeCloseTo(0, 12)
  expect(only(flat)[77]).toBeCloseTo((lifted[77] ?? 0) - (offsets[0] ?? 0), 15)
})

describe('trimming', () => {
  test('takes exactly the told time from each end', () => {
    const source = sound(noise(44_100))
    expect(trimmed(source, 100, 250).frames).toBe(44_100 - 4410 - 11_025)
    expect(trimmed(source, 0, 0).frames).toBe(44_100)
  })
  test('fades in over the cut, and leaves an end that was not cut alone', () => {
    const samples = samplesOf(1000, () => 0.5)
    const out = only(trimmed(sound(samples, 8000), 10, 0))
    expect(Math.abs(out[0] ?? 1)).toBeLessThan(0.01)
    expect(out.at(-1)).toBe(0.5)
    expect(out[20]).toBe(0.5)
  })
  test('never takes the last frame', () => {
    expect(trimmed(sound(noise(10)), 5000, 5000).frames).toBe(1)
  })
})

test('what turns is the loop, before and behind it', () => {
  const loop = samplesOf(7, (frame) => frame)
  expect(Array.from(only(turning(sound(loop), 10, 3)))).toEqual([
    4, 5, 6, 0, 1, 2, 3, 4, 5, 6, 0, 1, 2, 3, 4, 5, 6, 0, 1, 2,
  ])
})

test('the high-pass takes 3 dB at its frequency and 12 dB an octave below it', () => {
  const gainAt = (hz: number) => {
    const stream = highPassed(streamOf(sound(sine(88_200, hz))), 300)
    const room = newSamples(1, 44_100)
    stream.next(44_100, room)
    stream.next(44_100, room)
    return 10 * Math.log10(power(room[0] ?? new Float64Array(1)) / 0.125)
  }
  expect(gainAt(300)).toBeCloseTo(-3.01, 1)
  expect(gainAt(150)).toBeCloseTo(-12.3, 1)
  expect(gainAt(6000)).toBeCloseTo(0, 1)
})

describe('dither', () => {
  test('is triangular: mean 0, variance a sixth, never beyond one step', () => {
    const dither = new SeededDither(SEED)
    const values = new Float64Array(200_000)
    dither.fill(values)
    expect(values.every((value) => Math.abs(value) <= 1)).toBe(true)
    expect(values.reduce((sum, value) => sum + value, 0) / values.length).toBeCloseTo(0, 2)
    expect(power(values)).toBeCloseTo(1 / 6, 2)
  })
  test('does not repeat itself in the samples that follow', () => {
    const values = new Float64Array(200_000)
    new SeededDither(SEED).fill(values)
    for (let lag = 1; lag <= 12; lag++) {
      const products = values.subarray(lag).map((value, index) => value * (values[index] ?? 0))
      const mean = products.reduce((sum, product) => sum + product, 0) / products.length
      expect(Math.abs(mean / power(values))).toBeLessThan(0.01)
    }
  })
  test('goes on where it ended, however it is asked for', () => {
    const whole = new Float64Array(50)
    new SeededDither(SEED).fill(whole)
    const dither = new SeededDither(SEED)
    const pieces = [1, 2, 3, 4, 5, 35].map((length) => {
      const piece = new Float64Array(length)
      dither.fill(piece)
      return [...piece]
    })
    expect(pieces.flat()).toEqual([...whole])
  })
  test('is the same for the same seed and another for another', () => {
    const first = (seed: string) => {
      const values = new Float64Array(5)
      new SeededDither(seed).fill(values)
      return values
    }
    expect(first(SEED)).toEqual(first(SEED))
    expect(first(SEED)).not.toEqual(first(`f${SEED.slice(1)}`))
  })
})

describe('frame counts of a change of rate', () => {
  test('a sound keeps its length to half a frame, a loop its ratio exactly', () => {
    const rates = fc.constantFrom(8000, 22_050, 32_000, 44_100, 48_000, 96_000)
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 3_000_000 }),
        rates,
        rates,
        fc.boolean(),
        (frames, from, to, loop) => {
          const plan = planRate(frames, from, to, loop)
          expect(plan.frames).toBe(Math.max(1, Math.round((frames * to) / from)))
          if (!loop) expect([plan.inHz, plan.outHz, plan.skip]).toEqual([from, to, 0])
          else {
            expect(plan.outHz * frames).toBe(plan.inHz * plan.frames)
            expect(Math.abs((plan.before * plan.frames) / frames - plan.skip)).toBeLessThanOrEqual(0.5)
          }
        },
      ),
    )
  })
  test('loops of equal length stay of equal length', () => {
    expect(planRate(100_003, 48_000, 44_100, true).frames).toBe(
      planRate(100_003, 48_000, 44_100, true).frames,
    )
  })
})
