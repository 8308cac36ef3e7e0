import type { ByteSource } from '../../ports/bytes.ts'
import { decodeSamples } from '../kernel/decode-samples.ts'
import { isKernelReady, toKernelBytes, type SampleLayout } from '../wav/sample-layout.ts'
import { BLOCK_FRAMES, IS_LITTLE_ENDIAN, type SampleSource, type Samples } from './sample-source.ts'

/**
 * PCM and float samples of a file as a source. Samples that are no numbers, infinite or far beyond
 * full scale read as silence, as they are measured.
 * @param isBare says that floats are our own, and need no looking through
 */
export function decodedSource(bytes: ByteSource, layout: SampleLayout, isBare = false): SampleSource {
  const { channels, frameBytes } = layout
  function readBlock(from: number, frames: number, into: Samples, at: number): void {
    const { room, singles, shorts, mixed } = scratchFor(frameBytes, channels)
    bytes.readInto(room.subarray(0, frames * frameBytes), layout.dataAt + from * frameBytes)
    if (!isKernelReady(layout)) toKernelBytes(room, 0, frames, layout)
    // Nearly all sounds are of this kind, and a typed array reads them several times faster.
    if (layout.encoding === 's16' && IS_LITTLE_ENDIAN) {
      spreadOver(into, shorts, frames, at, 1 / 32_768)
      return
    }
    if (layout.encoding === 'f32' && IS_LITTLE_ENDIAN && isBare) {
      // One channel after the other is a plain copy, ten times faster than sample by sample.
      if (channels === 1) into[0]?.set(singles.subarray(0, frames), at)
      else spreadOver(into, singles, frames, at, 1)
      return
    }
    decodeSamples(room, 0, frames * channels, layout.encoding, mixed)
    spreadOver(into, mixed, frames, at, 1)
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

interface Scratch {
  readonly room: Uint8Array
  /** The same bytes as samples. */
  readonly singles: Float32Array
  readonly shorts: Int16Array
  readonly mixed: Float64Array
}

let scratch: Scratch | undefined

/** Memory that is used only while a block is read: one for all sources, which are many and short. */
function scratchFor(frameBytes: number, channels: number): Scratch {
  const roomBytes = Math.max(BLOCK_FRAMES * frameBytes, scratch?.room.length ?? 0)
  const mixedLength = Math.max(BLOCK_FRAMES * channels, scratch?.mixed.length ?? 0)
  if (scratch?.room.length !== roomBytes || scratch.mixed.length !== mixedLength) {
    const room = new Uint8Array(roomBytes)
    const singles = new Float32Array(room.buffer, 0, roomBytes >> 2)
    const shorts = new Int16Array(room.buffer, 0, roomBytes >> 1)
    scratch = { room, singles, shorts, mixed: new Float64Array(mixedLength) }
  }
  return scratch
}

/** Interleaved samples to one array a channel, from a frame on. */
function spreadOver(
  into: Samples,
  mixed: Float64Array | Float32Array | Int16Array,
  frames: number,
  at: number,
  scale: number,
): void {
  const channels = into.length
  for (let channel = 0; channel < channels; channel++) {
    const target = into[channel]
    if (target === undefined) continue
    for (let frame = 0, index = channel; frame < frames; frame++, index += channels) {
      target[at + frame] = (mixed[index] ?? 0) * scale
    }
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
