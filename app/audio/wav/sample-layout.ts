import type { KernelEncoding } from '../../ports/kernel.ts'
import type { FormatChunk } from './format-chunk.ts'

/** Where the samples of a sound lie and how to read them. */
export interface SampleLayout {
  readonly dataAt: number
  readonly frames: number
  readonly channels: number
  readonly sampleRateHz: number
  /** Bytes from one frame to the next, by the file. */
  readonly frameBytes: number
  /** Bytes of one sample in the file, 1 to 8. */
  readonly sampleBytes: number
  readonly isBigEndian: boolean
  readonly isFloat: boolean
  /** Bits that carry sound, from the top of the sample down. */
  readonly validBits: number
  /** Whole numbers whose unused bytes are the upper ones (24 bits in four bytes, plain format). */
  readonly isRightJustified: boolean
  readonly channelMask: number
  /** What the kernel is fed; where the file's own bytes are not that, they are converted first. */
  readonly encoding: KernelEncoding
}

/** Bytes of one sample as the kernel takes it. */
export const ENCODING_BYTES: Readonly<Record<KernelEncoding, number>> = {
  u8: 1,
  s16: 2,
  s24: 3,
  s32: 4,
  f32: 4,
  f64: 8,
}

/** The layout of PCM and float samples; undefined where the format does not lead to one. */
export function sampleLayout(
  format: FormatChunk,
  dataAt: number,
  dataBytes: number,
  isBigEndian: boolean,
): SampleLayout | undefined {
  const { coding, channels, sampleRateHz, bitDepth } = format
  if (channels === 0 || sampleRateHz === 0 || bitDepth === 0 || bitDepth > 64) return undefined
  if (coding !== 'pcm' && coding !== 'float') return undefined
  if (coding === 'float' && bitDepth !== 32 && bitDepth !== 64) return undefined
  const ownBytes = Math.ceil(bitDepth / 8)
  const container = format.blockAlign / channels
  // A wider frame than the bits need is a wider container where the byte rate says so too; any other
  // block align is not believed.
  const isAgreed = format.byteRate === sampleRateHz * format.blockAlign
  const isWider =
    isAgreed && Number.isInteger(container) && container > ownBytes && container <= 8 && coding === 'pcm'
  const sampleBytes = isWider ? container : ownBytes
  const frameBytes = sampleBytes * channels
  return {
    dataAt,
    frames: Math.floor(dataBytes / frameBytes),
    channels,
    sampleRateHz,
    frameBytes,
    sampleBytes,
    isBigEndian,
    isFloat: coding === 'float',
    validBits: format.validBits,
    isRightJustified: isWider,
    channelMask: format.channelMask,
    encoding: encodingOf(coding === 'float', sampleBytes),
  }
}

function encodingOf(isFloat: boolean, sampleBytes: number): KernelEncoding {
  if (isFloat) return sampleBytes === 8 ? 'f64' : 'f32'
  return sampleBytes === 1 ? 'u8' : sampleBytes === 2 ? 's16' : sampleBytes === 3 ? 's24' : 's32'
}

/** Whether the file's bytes can go to the kernel as they are. */
export function isKernelReady(layout: SampleLayout): boolean {
  if (layout.isBigEndian && layout.sampleBytes > 1) return false
  return !layout.isRightJustified && (layout.isFloat || layout.sampleBytes <= 4)
}

/**
 * Turns `frames` frames into the kernel's encoding, in place: what is written never overtakes what
 * is read, since no encoding of the kernel is wider than the file's.
 */
export function toKernelBytes(bytes: Uint8Array, at: number, frames: number, layout: SampleLayout): void {
  const { sampleBytes, isBigEndian, isRightJustified } = layout
  const wide = ENCODING_BYTES[layout.encoding]
  const one = new Uint8Array(8)
  const ownBytes = isRightJustified ? Math.ceil(layout.validBits / 8) : sampleBytes
  for (let index = 0; index < frames * layout.channels; index++) {
    const from = at + index * sampleBytes
    for (let byte = 0; byte < sampleBytes; byte++) {
      one[byte] = bytes[from + (isBigEndian ? sampleBytes - 1 - byte : byte)] ?? 0
    }
    const to = at + index * wide
    // The `ownBytes` lowest (right-justified) or all bytes count; their top lands on the kernel's top.
    for (let byte = 0; byte < wide; byte++) {
      const source = ownBytes - wide + byte
      bytes[to + byte] = source < 0 ? 0 : (one[source] ?? 0)
    }
  }
}
