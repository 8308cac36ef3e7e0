import { AppError } from '../../errors/app-error.ts'
import { SeededDither } from './seeded-dither.ts'
import { BLOCK_FRAMES, IS_LITTLE_ENDIAN, newSamples, type SampleStream } from './sample-source.ts'

export const PLAIN_HEADER_BYTES = 44
const PCM = 1
const LARGEST_RIFF = 0xff_ff_ff_ff

export interface PlainFormat {
  readonly frames: number
  readonly channels: number
  readonly sampleRateHz: number
  /** 8, 16, 24 or 32. */
  readonly bitDepth: number
}

/** Takes bytes in their order. */
export interface ByteSink {
  write(bytes: Uint8Array): void
}

/**
 * The header that every player reads: RIFF, a `fmt ` chunk of 16 bytes, and `data` from byte 44 on.
 * Source: Microsoft/IBM, "Multimedia Programming Interface and Data Specifications 1.0" (1991).
 * @throws AppError `prepare/too-long` where the sizes do not fit their 32 bits
 */
export function plainHeader({ frames, channels, sampleRateHz, bitDepth }: PlainFormat): Uint8Array {
  const blockAlign = channels * (bitDepth / 8)
  const dataBytes = frames * blockAlign
  if (dataBytes + PLAIN_HEADER_BYTES > LARGEST_RIFF) {
    throw new AppError({
      code: 'prepare/too-long',
      what: 'The prepared sound would not fit a WAV file (4 GiB).',
      where: '',
      mend: 'Shorten it in an editor, or leave it out.',
    })
  }
  const bytes = new Uint8Array(PLAIN_HEADER_BYTES)
  const view = new DataView(bytes.buffer)
  const word = (at: number, text: string) => {
    for (let index = 0; index < 4; index++) bytes[at + index] = text.charCodeAt(index)
  }
  word(0, 'RIFF')
  view.setUint32(4, PLAIN_HEADER_BYTES - 8 + dataBytes + (dataBytes & 1), true)
  word(8, 'WAVE')
  word(12, 'fmt ')
  view.setUint32(16, 16, true)
  view.setUint16(20, PCM, true)
  view.setUint16(22, channels, true)
  view.setUint32(24, sampleRateHz, true)
  view.setUint32(28, sampleRateHz * blockAlign, true)
  view.setUint16(32, blockAlign, true)
  view.setUint16(34, bitDepth, true)
  word(36, 'data')
  view.setUint32(40, dataBytes, true)
  return bytes
}

/** How samples become whole numbers. */
export interface Rounding {
  /** Seed of the dither; null where the samples are whole numbers of this depth already. */
  readonly ditherSeed: string | null
}

/**
 * Writes a whole WAV of whole numbers, block by block. Samples beyond full scale are cut to it.
 * @returns how many were cut
 * @throws as `plainHeader`, and what the sink throws
 */
export function writePlainWav(
  stream: SampleStream,
  format: PlainFormat,
  rounding: Rounding,
  sink: ByteSink,
  onBlock: () => void = () => {},
): number {
  sink.write(plainHeader(format))
  const sampleBytes = format.bitDepth / 8
  const room = newSamples(format.channels, BLOCK_FRAMES)
  const bytes = new Uint8Array(BLOCK_FRAMES * format.channels * sampleBytes)
  const round = rounder(format, rounding, bytes)
  let cut = 0
  for (let from = 0; from < format.frames; from += BLOCK_FRAMES) {
    onBlock()
    const frames = Math.min(BLOCK_FRAMES, format.frames - from)
    stream.next(frames, room)
    cut += round(room, frames)
    sink.write(bytes.subarray(0, frames * format.channels * sampleBytes))
  }
  // A chunk of odd length is followed by a byte that does not count (Microsoft/IBM 1991).
  if ((format.frames * format.channels * sampleBytes) % 2 === 1) sink.write(new Uint8Array(1))
  return cut
}

type Round = (samples: readonly Float64Array[], frames: number) => number

function rounder({ channels, bitDepth }: PlainFormat, { ditherSeed }: Rounding, bytes: Uint8Array): Round {
  const dither = ditherSeed === null ? undefined : new SeededDither(ditherSeed)
  const noise = new Float64Array(BLOCK_FRAMES * channels)
  const values = new Int32Array(BLOCK_FRAMES * channels)
  const shorts = new Int16Array(bytes.buffer, 0, bytes.length >> 1)
  return (samples, frames) => {
    const count = frames * channels
    dither?.fill(count === noise.length ? noise : noise.subarray(0, count))
    let cut = 0
    for (let channel = 0; channel < channels; channel++) {
      const own = samples[channel]
      if (own !== undefined) cut += roundChannel(own, frames, noise, values, channel, channels, bitDepth)
    }
    if (bitDepth === 16 && IS_LITTLE_ENDIAN)
      shorts.set(count === values.length ? values : values.subarray(0, count))
    else putValues(values, count, bitDepth, bytes)
    return cut
  }
}

/** Highest depth at which a value and its offset still fit 32 bits. */
const NARROW_BITS = 30

/**
 * Rounds one channel into its places among the others; digital silence stays silent.
 * @returns how many samples lay beyond full scale and were cut to it
 */
function roundChannel(
  samples: Float64Array,
  frames: number,
  noise: Float64Array,
  values: Int32Array,
  channel: number,
  channels: number,
  bitDepth: number,
): number {
  const scale = 2 ** (bitDepth - 1)
  const highest = scale - 1
  // Above zero, dropping the fraction rounds down: faster than Math.floor, and nearly all is in this range.
  const lift = bitDepth <= NARROW_BITS ? 2 * scale : 0
  let cut = 0
  for (let frame = 0, at = channel; frame < frames; frame++, at += channels) {
    const exact = (samples[frame] ?? 0) * scale
    const value = exact + (noise[at] ?? 0) + 0.5
    if (value > -scale && value < highest && lift !== 0) {
      values[at] = exact === 0 ? 0 : ((value + lift) | 0) - lift
      continue
    }
    if (exact > highest + 0.5 || exact < -scale - 0.5) cut++
    values[at] = exact === 0 ? 0 : Math.max(-scale, Math.min(highest, Math.floor(value)))
  }
  return cut
}

/** Whole numbers as bytes, little-endian; those of 8 bit are unsigned with 128 as zero (Microsoft/IBM 1991). */
function putValues(values: Int32Array, count: number, bitDepth: number, bytes: Uint8Array): void {
  let at = 0
  for (let index = 0; index < count; index++) {
    const value = values[index] ?? 0
    if (bitDepth === 8) bytes[at++] = value + 128
    else {
      bytes[at++] = value
      bytes[at++] = value >> 8
      if (bitDepth === 16) continue
      bytes[at++] = value >> 16
      if (bitDepth === 32) bytes[at++] = value >> 24
    }
  }
}
