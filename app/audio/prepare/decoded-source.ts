import type { ByteSource } from '../../ports/bytes.ts'
import { decodeSamples } from '../kernel/decode-samples.ts'
import { isKernelReady, toKernelBytes, type SampleLayout } from '../wav/sample-layout.ts'
import { BLOCK_FRAMES, type SampleSource, type Samples } from './sample-source.ts'

/**
 * PCM and float samples of a file as a source. Samples that are no numbers, infinite or far beyond
 * full scale read as silence, as they are measured.
 */
export function decodedSource(bytes: ByteSource, layout: SampleLayout): SampleSource {
  const { channels, frameBytes } = layout
  const room = new Uint8Array(BLOCK_FRAMES * frameBytes)
  const mixed = new Float64Array(BLOCK_FRAMES * channels)

  function readBlock(from: number, frames: number, into: Samples, at: number): void {
    bytes.readInto(room.subarray(0, frames * frameBytes), layout.dataAt + from * frameBytes)
    if (!isKernelReady(layout)) toKernelBytes(room, 0, frames, layout)
    decodeSamples(room, 0, frames * channels, layout.encoding, mixed)
    into.forEach((target, channel) => {
      for (let frame = 0, index = channel; frame < frames; frame++, index += channels) {
        target[at + frame] = mixed[index] ?? 0
      }
    })
  }

  return {
    channels,
    frames: layout.frames,
    sampleRateHz: layout.sampleRateHz,
    read: (from, frames, into) => {
      const first = Math.max(0, from)
      const last = Math.min(layout.frames, from + frames)
      if (first > from || last < from + frames) for (const target of into) target.fill(0, 0, frames)
      for (let at = first; at < last; at += BLOCK_FRAMES) {
        readBlock(at, Math.min(BLOCK_FRAMES, last - at), into, at - from)
      }
    },
  }
}

/** Layout of bare 32-bit floats, channel beside channel: how samples pass to and from other programs. */
export function bareFloats(frames: number, channels: number, sampleRateHz: number): SampleLayout {
  return {
    dataAt: 0,
    frames,
    channels,
    sampleRateHz,
    frameBytes: 4 * channels,
    sampleBytes: 4,
    isBigEndian: false,
    isFloat: true,
    validBits: 32,
    isRightJustified: false,
    channelMask: 0,
    encoding: 'f32',
  }
}
