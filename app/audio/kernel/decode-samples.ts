import { ENCODING_BYTES } from '../wav/sample-layout.ts'
import type { KernelEncoding } from '../../ports/kernel.ts'

/** Samples beyond this, as a fraction of full scale, are no sound; they are taken as 0 and counted. */
export const WILD_ABOVE = 2 ** 20

/**
 * Samples as fractions of full scale, interleaved as they lie. Whole numbers of b bits are divided
 * by 2^(b-1); 8-bit ones are unsigned with 128 as zero (Microsoft/IBM 1991).
 * @returns how many samples were not finite or wild
 */
export function decodeSamples(
  bytes: Uint8Array,
  at: number,
  count: number,
  encoding: KernelEncoding,
  target: Float64Array,
): number {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const read = READERS[encoding]
  const width = ENCODING_BYTES[encoding]
  let wild = 0
  for (let index = 0; index < count; index++) {
    const value = read(view, at + index * width)
    const isSound = Math.abs(value) <= WILD_ABOVE
    if (!isSound) wild++
    target[index] = isSound ? value : 0
  }
  return wild
}

const READERS: Readonly<Record<KernelEncoding, (view: DataView, at: number) => number>> = {
  u8: (view, at) => (view.getUint8(at) - 128) / 128,
  s16: (view, at) => view.getInt16(at, true) / 32768,
  s24: (view, at) => ((view.getInt8(at + 2) << 16) | view.getUint16(at, true)) / 8388608,
  s32: (view, at) => view.getInt32(at, true) / 2147483648,
  f32: (view, at) => view.getFloat32(at, true),
  f64: (view, at) => view.getFloat64(at, true),
}
