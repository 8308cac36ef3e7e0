import { createHash } from 'node:crypto'
import fc from 'fast-check'
import wavefile from 'wavefile'
import { describe, expect, test } from 'vitest'
import { plainHeader } from '../../../../app/audio/prepare/plain-wav.ts'
import { noise, prepared, recipeOf, samplesOf, sound } from '../../../support/prepare-by-recipe.ts'

/** Changes only with PREPARING_VERSION. */
const GOLDEN = '1a43121110311cbc89a976dea419fdd070eaeec7b9170a6b318576b928a1079a'
const exact = recipeOf({ do: 'bit-depth', bitDepth: 16, dither: 'none' })
const dithered = recipeOf({ do: 'bit-depth', bitDepth: 16, dither: 'tpdf' })

describe('a plain WAV', () => {
  test.each([8, 16, 24, 32])('of %i bit is read again by another reader, sample for sample', (bitDepth) => {
    const scale = 2 ** (bitDepth - 1)
    const values = noise(1000, bitDepth).map((sample) => Math.round(sample * 0.99 * scale))
    const { bytes } = prepared(sound(values.map((value) => value / scale)), exact, { bitDepth })
    const wav = new wavefile.WaveFile(bytes)
    const read = Array.from(wav.getSamples(false, Float64Array) as unknown as Float64Array)
    expect(read.map((value) => (bitDepth === 8 ? value - 128 : value))).toEqual(
      Array.from(values, (value) => value + 0),
    )
    expect(wav.fmt).toMatchObject({
      audioFormat: 1,
      numChannels: 1,
      sampleRate: 44_100,
      bitsPerSample: bitDepth,
    })
  })

  test('has its samples at byte 44 and nothing behind them', () => {
    const { bytes } = prepared(sound([noise(100), noise(100, 2)]), exact)
    expect(bytes.length).toBe(44 + 400)
    expect(Buffer.from(bytes.subarray(36, 40)).toString()).toBe('data')
    expect(new DataView(bytes.buffer).getUint32(4, true)).toBe(bytes.length - 8)
  })

  test('of an odd number of bytes is padded, as chunks are', () => {
    const { bytes } = prepared(sound(noise(101)), exact, { bitDepth: 8 })
    expect(bytes.length).toBe(44 + 101 + 1)
    expect(new DataView(bytes.buffer).getUint32(40, true)).toBe(101)
  })

  test('longer than its sizes can tell is refused in words', () => {
    const long = { frames: 2 ** 31, channels: 1, sampleRateHz: 48_000, bitDepth: 16 }
    expect(() => plainHeader(long)).toThrow(/4 GiB/)
  })
})

describe('rounding', () => {
  test('whole numbers pass without a change', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -32_768, max: 32_767 }), { minLength: 1, maxLength: 50 }),
        (values) => {
          const { bytes, cutSamples } = prepared(
            sound(Float64Array.from(values, (value) => value / 32_768)),
            exact,
          )
          const view = new DataView(bytes.buffer)
          expect(values.map((_, index) => view.getInt16(44 + index * 2, true))).toEqual(values)
          expect(cutSamples).toBe(0)
        },
      ),
    )
  })

  test('dither keeps a tone below one step alive', () => {
    const tone = samplesOf(
      200_000,
      (frame) => (0.4 / 32_768) * Math.sin((2 * Math.PI * 441 * frame) / 44_100),
    )
    const correlation = (recipe: typeof exact) => {
      const view = new DataView(prepared(sound(tone), recipe).bytes.buffer)
      return tone.reduce((sum, sample, frame) => sum + sample * view.getInt16(44 + frame * 2, true), 0)
    }
    const ideal = tone.reduce((sum, sample) => sum + sample * sample * 32_768, 0)
    expect(correlation(exact)).toBe(0)
    expect(correlation(dithered) / ideal).toBeCloseTo(1, 1)
  })

  test('digital silence stays silent', () => {
    const { bytes } = prepared(sound(new Float64Array(1000)), dithered)
    expect(bytes.subarray(44).every((byte) => byte === 0)).toBe(true)
  })

  test('the bytes of a dithered sound are these, on any machine', () => {
    // Noise of a congruential generator: nothing in it hangs on how a machine reckons sines.
    const { bytes } = prepared(sound([noise(20_000), noise(20_000, 5)]), {
      ...dithered,
      steps: [{ action: { do: 'gain', gainDb: -6.25 }, rule: '', reason: '' }, ...dithered.steps],
    })
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(GOLDEN)
  })

  test('the same samples and seed give the same bytes', () => {
    expect(prepared(sound(noise(5000)), dithered).bytes).toEqual(prepared(sound(noise(5000)), dithered).bytes)
  })

  test('samples beyond full scale are cut to it and counted', () => {
    const { bytes, cutSamples } = prepared(sound(Float64Array.of(1.5, -1.5, 0.5, 1, -1)), exact)
    const view = new DataView(bytes.buffer)
    expect([0, 1, 2].map((index) => view.getInt16(44 + index * 2, true))).toEqual([32_767, -32_768, 16_384])
    expect(cutSamples).toBe(3)
  })
})
