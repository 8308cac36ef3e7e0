import { describe, expect, test } from 'vitest'
import { duplicateSounds } from '../../../app/audio/duplicates.ts'
import { inspected } from '../../support/inspected.ts'
import { noise, sine } from '../../support/signals.ts'
import { ascii, chunk, join, wavFile, type WavOptions } from '../../support/wav-bytes.ts'

const tone = sine(44100, 300, 5000).map((value) => Math.round(value * 32768) / 32768)
const hashOf = (samples: Float64Array, options: WavOptions = {}) =>
  inspected(wavFile([samples], options)).inspection.sampleHash

describe('the same samples are the same sound', () => {
  const plain = hashOf(tone)
  test.each<{ name: string; options: WavOptions }>([
    {
      name: 'with tags',
      options: { before: [chunk('LIST', join([ascii('INFO'), chunk('INAM', ascii('x\0'))]))] },
    },
    { name: 'in 24 bits', options: { bits: 24 } },
    { name: 'in 32 bits', options: { bits: 32 } },
    { name: 'in RIFX', options: { isBigEndian: true } },
    { name: 'in an extensible format', options: { channelMask: 4 } },
  ])('$name', ({ options }) => expect(hashOf(tone, options)).toBe(plain))

  test('8-bit samples in 16 bits', () => {
    const coarse = tone.map((value) => Math.round(value * 128) / 128)
    expect(hashOf(coarse, { bits: 16 })).toBe(hashOf(coarse, { bits: 8 }))
  })

  test('floats in 32 or 64 bits, zero with or without its sign', () => {
    const floats = Float64Array.from(Float32Array.from(noise(1, 5000)))
    const signed = floats.map((value, index) => (index === 9 ? -0 : value))
    const unsigned = floats.map((value, index) => (index === 9 ? 0 : value))
    expect(hashOf(signed, { isFloat: true, bits: 32 })).toBe(hashOf(unsigned, { isFloat: true, bits: 64 }))
  })

  test('a sound whose low bits are used only far behind its beginning', () => {
    const late = joinLate(tone, 400000)
    expect(hashOf(late, { bits: 24 })).toBe(hashOf(late, { bits: 32 }))
    expect(hashOf(late, { bits: 24 })).not.toBe(hashOf(late, { bits: 16 }))
  })
})

function joinLate(start: Float64Array, frames: number): Float64Array {
  const whole = new Float64Array(frames)
  whole.set(start)
  whole[frames - 1] = 3 / 8388608
  return whole
}

describe('other sounds are other sounds', () => {
  const plain = hashOf(tone)
  test('one sample apart', () =>
    expect(hashOf(tone.map((value, index) => (index === 4999 ? value + 1 / 32768 : value)))).not.toBe(plain))
  test('another rate', () => expect(hashOf(tone, { rateHz: 44100 })).not.toBe(plain))
  test('two channels', () => expect(inspected(wavFile([tone, tone])).inspection.sampleHash).not.toBe(plain))
  test('floats are not whole numbers', () =>
    expect(hashOf(tone, { bits: 32, isFloat: true })).not.toBe(plain))
})

test('duplicates are grouped in order of the first; sounds without samples have none', () => {
  const sounds = ['b', 'a', null, 'b', 'c', 'a', null, 'b'].map((sampleHash, id) => ({ id, sampleHash }))
  expect(duplicateSounds(sounds).map((group) => group.map(({ id }) => id))).toEqual([
    [0, 3, 7],
    [1, 5],
  ])
})
