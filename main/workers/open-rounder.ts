import { ROUNDING_BASE64 } from '../../app/audio/kernel/rounding-bytes.ts'
import { plainRounder } from '../../app/audio/prepare/plain-rounder.ts'
import { DITHER_PASSED_OVER, ditherStates } from '../../app/audio/prepare/seeded-dither.ts'
import { ROUNDED_FRAMES_MAX, type RoundingSetup, type SampleRounder } from '../../app/ports/sample-rounder.ts'

/** What the WebAssembly module exports; see app/audio/kernel/assembly/rounding.ts. */
interface RoundingExports {
  readonly memory: { readonly buffer: ArrayBuffer }
  readonly cut: { readonly value: number }
  samplesAt(channel: number): number
  bytesAt(): number
  memoryEnd(): number
  mostChannels(): number
  mostFrames(): number
  seedLane(lane: number, a: number, b: number, c: number): void
  begin(gain: number, dithered: boolean, passedOver: number): void
  round(frames: number, channels: number, bitDepth: number): void
}

/** Node has it; the type definitions leave it to those of browsers, which this layer does not load. */
declare const WebAssembly: {
  readonly Module: new (bytes: Uint8Array) => object
  readonly Instance: new (module: object) => { readonly exports: unknown }
}

/** The fast rounder; what has more channels than it takes goes the plain way. */
export function openRounder(): SampleRounder {
  const module = new WebAssembly.Module(Buffer.from(ROUNDING_BASE64, 'base64'))
  const rounding = new WebAssembly.Instance(module).exports as unknown as RoundingExports
  const { buffer } = rounding.memory
  if (rounding.memoryEnd() > buffer.byteLength || rounding.mostFrames() < ROUNDED_FRAMES_MAX)
    throw new RangeError('the rounding needs more memory pages')
  const plain = plainRounder()
  const planes = Array.from({ length: rounding.mostChannels() }, (_, channel) => {
    return new Float64Array(buffer, rounding.samplesAt(channel), ROUNDED_FRAMES_MAX)
  })
  let setup: RoundingSetup = { channels: 1, bitDepth: 16, gain: 1, ditherSeed: null }
  const isFast = () => setup.channels <= planes.length
  return {
    begin: (next) => {
      setup = next
      if (!isFast()) return plain.begin(setup)
      ditherStates(setup.ditherSeed ?? '').forEach((state, lane) => rounding.seedLane(lane, ...state))
      rounding.begin(setup.gain, setup.ditherSeed !== null, DITHER_PASSED_OVER)
    },
    round: (samples, frames) => {
      if (!isFast()) return plain.round(samples, frames)
      const { channels, bitDepth } = setup
      for (let channel = 0; channel < channels; channel++) {
        const own = samples[channel]
        if (own !== undefined) planes[channel]?.set(own.length === frames ? own : own.subarray(0, frames))
      }
      rounding.round(frames, channels, bitDepth)
      const bytes = new Uint8Array(buffer, rounding.bytesAt(), (frames * channels * bitDepth) / 8)
      return { bytes, cutSamples: rounding.cut.value }
    },
  }
}
