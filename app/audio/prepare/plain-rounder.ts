import { ROUNDED_FRAMES_MAX, type RoundingSetup, type SampleRounder } from '../../ports/sample-rounder.ts'
import { SeededDither } from './seeded-dither.ts'

/** The rounding in plain TypeScript: what the fast one is held against, and for any number of channels. */
export function plainRounder(): SampleRounder {
  let setup: RoundingSetup = { channels: 1, bitDepth: 16, gain: 1, ditherSeed: null }
  let dither: SeededDither | undefined
  let noise = new Float64Array()
  let bytes = new Uint8Array()
  return {
    begin: (next) => {
      setup = next
      dither = setup.ditherSeed === null ? undefined : new SeededDither(setup.ditherSeed)
      noise = new Float64Array(ROUNDED_FRAMES_MAX * setup.channels)
      bytes = new Uint8Array(noise.length * (setup.bitDepth / 8))
    },
    round: (samples, frames) => {
      const { channels, bitDepth, gain } = setup
      const count = frames * channels
      dither?.fill(noise.subarray(0, count))
      let cutSamples = 0
      for (let channel = 0; channel < channels; channel++) {
        const own = samples[channel]
        for (let frame = 0, at = channel; frame < frames; frame++, at += channels) {
          const exact = (own?.[frame] ?? 0) * gain * 2 ** (bitDepth - 1)
          if (isBeyond(exact, bitDepth)) cutSamples++
          putWhole(rounded(exact, noise[at] ?? 0, bitDepth), bitDepth, bytes, at)
        }
      }
      return { bytes: bytes.subarray(0, count * (bitDepth / 8)), cutSamples }
    },
  }
}

function isBeyond(exact: number, bitDepth: number): boolean {
  const scale = 2 ** (bitDepth - 1)
  return exact > scale - 0.5 || exact < -scale - 0.5
}

/** Added to a number and taken away again, this rounds it, halves to the even one (IEEE 754, binary64). */
const WHOLE = 1.5 * 2 ** 52

/** Digital silence stays silent; what is no number is taken for it. */
function rounded(exact: number, noise: number, bitDepth: number): number {
  const scale = 2 ** (bitDepth - 1)
  if (exact === 0 || Number.isNaN(exact)) return 0
  return Math.max(-scale, Math.min(scale - 1, exact + noise)) + WHOLE - WHOLE
}

/** A whole number as bytes, little-endian; those of 8 bit are unsigned with 128 as zero (Microsoft/IBM 1991). */
function putWhole(value: number, bitDepth: number, bytes: Uint8Array, place: number): void {
  const width = bitDepth / 8
  const first = place * width
  if (bitDepth === 8) bytes[first] = value + 128
  else for (let index = 0; index < width; index++) bytes[first + index] = value >> (8 * index)
}
