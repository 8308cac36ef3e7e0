import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readWaveform, WaveformBuilder } from '../../../../app/audio/peaks/waveform.ts'
import { inspected } from '../../../support/inspected.ts'
import { noise, sine } from '../../../support/signals.ts'
import { wavFile } from '../../../support/wav-bytes.ts'

const waveformOf = (bytes: Uint8Array) => {
  const packed = inspected(bytes).peaks ?? new Uint8Array()
  const waveform = readWaveform(packed)
  if (waveform === undefined) throw new Error('it cannot be read back')
  return { packed, waveform }
}

test('each level covers the whole sound, a quarter of the bins of the one before, down to 64 or fewer', () => {
  const { waveform } = waveformOf(wavFile([noise(1, 200000)]))
  const bins = waveform.levels.map(({ pairs }) => pairs.length / 2)
  expect(waveform.frames).toBe(200000)
  expect(waveform.levels.map(({ framesPerBin }) => framesPerBin)).toEqual([256, 1024, 4096])
  expect(bins).toEqual([782, 196, 49])
})

test('no sample lies outside what is drawn for it, at any level and over both channels', () => {
  fc.assert(
    fc.property(fc.integer(), fc.integer({ min: 1, max: 40000 }), (seed, frames) => {
      const channels = [noise(seed, frames, 0.9), sine(48000, 50, frames, 0.95)]
      const { waveform } = waveformOf(wavFile(channels))
      for (const { framesPerBin, pairs } of waveform.levels) {
        for (let frame = 0; frame < frames; frame += 13) {
          const bin = Math.floor(frame / framesPerBin)
          for (const channel of channels) {
            const sample = Math.round((channel[frame] ?? 0) * 32768) / 32768
            expect(sample * 127).toBeGreaterThanOrEqual(pairs[bin * 2] ?? 0)
            expect(sample * 127).toBeLessThanOrEqual(pairs[bin * 2 + 1] ?? 0)
          }
        }
      }
    }),
    { numRuns: 20 },
  )
})

test.each([
  { name: '16 bit, one channel', bits: 16 as const, channels: 1 },
  { name: '8 bit, one channel', bits: 8 as const, channels: 1 },
  { name: '24 bit, two channels', bits: 24 as const, channels: 2 },
])('they take at most 1 %% of the sound: $name', ({ bits, channels }) => {
  const bytes = wavFile(
    Array.from({ length: channels }, () => noise(3, 100000)),
    { bits },
  )
  expect(waveformOf(bytes).packed.length).toBeLessThanOrEqual(bytes.length / 100)
})

test('a sound of hours gets wider bins instead of more', () => {
  const frames = 48000 * 3600 * 10
  const builder = new WaveformBuilder(frames, 2)
  builder.add(new Float32Array(1000).fill(-0.5), new Float32Array(1000).fill(0.5))
  const waveform = readWaveform(builder.pack())
  expect(waveform?.levels[0]?.pairs.length).toBeLessThanOrEqual(2 << 17)
  expect(
    (waveform?.levels[0]?.framesPerBin ?? 0) * ((waveform?.levels[0]?.pairs.length ?? 0) / 2),
  ).toBeGreaterThanOrEqual(frames)
})

test('bytes that are no waveform, or a cut one, are not read', () => {
  const { packed } = waveformOf(wavFile([noise(1, 20000)]))
  expect(readWaveform(packed.subarray(0, packed.length - 1))).toBeUndefined()
  expect(readWaveform(new Uint8Array(100))).toBeUndefined()
  expect(readWaveform(new Uint8Array(3))).toBeUndefined()
})
