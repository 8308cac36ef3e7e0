import { AppError } from '../../errors/app-error.ts'
import type { SampleRounder } from '../../ports/sample-rounder.ts'
import { BLOCK_FRAMES, newSamples, type SampleStream } from './sample-source.ts'

/** RIFF header, `fmt ` chunk of 16 bytes, and the head of `data`. */
export const PLAIN_HEADER_BYTES = 44
/** Where its coding stands in the header. */
export const FORMAT_TAG_AT = 20
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
  view.setUint16(FORMAT_TAG_AT, PCM, true)
  view.setUint16(22, channels, true)
  view.setUint32(24, sampleRateHz, true)
  view.setUint32(28, sampleRateHz * blockAlign, true)
  view.setUint16(32, blockAlign, true)
  view.setUint16(34, bitDepth, true)
  word(36, 'data')
  view.setUint32(40, dataBytes, true)
  return bytes
}

/**
 * Writes a whole WAV of whole numbers, block by block. Samples beyond full scale are cut to it.
 * @param rounding how samples become whole numbers
 * @returns how many were cut
 * @throws as `plainHeader`, and what the sink throws
 */
export function writePlainWav(
  stream: SampleStream,
  format: PlainFormat,
  rounding: { readonly rounder: SampleRounder; readonly gain: number; readonly ditherSeed: string | null },
  sink: ByteSink,
  onBlock: () => void = () => {},
): number {
  sink.write(plainHeader(format))
  const { channels, bitDepth } = format
  const { rounder, gain, ditherSeed } = rounding
  const room = newSamples(channels, BLOCK_FRAMES)
  rounder.begin({ channels, bitDepth, gain, ditherSeed })
  let cut = 0
  for (let from = 0; from < format.frames; from += BLOCK_FRAMES) {
    onBlock()
    const frames = Math.min(BLOCK_FRAMES, format.frames - from)
    stream.next(frames, room)
    const { bytes, cutSamples } = rounder.round(room, frames)
    cut += cutSamples
    sink.write(bytes)
  }
  // A chunk of odd length is followed by a byte that does not count (Microsoft/IBM 1991).
  if ((format.frames * channels * (bitDepth / 8)) % 2 === 1) sink.write(new Uint8Array(1))
  return cut
}
