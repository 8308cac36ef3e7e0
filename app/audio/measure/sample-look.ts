import type { ByteSource } from '../../ports/bytes.ts'
import { decodeSamples } from '../kernel/decode-samples.ts'
import { isKernelReady, toKernelBytes, type SampleLayout } from '../wav/sample-layout.ts'
import type { Stretch } from './loud-bins.ts'

const LOOK_FRAMES = 4096

/** Looks at single stretches of a sound again, where the one pass could not yet know what to look for. */
export class SampleLook {
  readonly #source: ByteSource
  readonly #layout: SampleLayout
  readonly #bytes: Uint8Array
  readonly #samples: Float64Array

  constructor(source: ByteSource, layout: SampleLayout) {
    this.#source = source
    this.#layout = layout
    this.#bytes = new Uint8Array(LOOK_FRAMES * layout.frameBytes)
    this.#samples = new Float64Array(LOOK_FRAMES * layout.channels)
  }

  /** Interleaved samples of a stretch of at most 4096 frames; valid until the next call. */
  samples(from: number, frames: number): Float64Array {
    const { dataAt, frameBytes, channels, encoding } = this.#layout
    const count = Math.max(0, Math.min(frames, LOOK_FRAMES, this.#layout.frames - from))
    const bytes = this.#bytes.subarray(0, count * frameBytes)
    if (count > 0) this.#source.readInto(bytes, dataAt + from * frameBytes)
    if (!isKernelReady(this.#layout)) toKernelBytes(bytes, 0, count, this.#layout)
    decodeSamples(bytes, 0, count * channels, encoding, this.#samples)
    return this.#samples.subarray(0, count * channels)
  }

  /** First frame of a stretch in which any channel's |sample| passes; undefined where none does. */
  firstFrame(stretch: Stretch, passes: (loudness: number) => boolean): number | undefined {
    const end = Math.min(stretch.to, this.#layout.frames)
    for (let from = stretch.from; from < end; from += LOOK_FRAMES) {
      const samples = this.samples(from, Math.min(LOOK_FRAMES, end - from))
      const index = samples.findIndex((sample) => passes(Math.abs(sample)))
      if (index >= 0) return from + Math.floor(index / this.#layout.channels)
    }
    return undefined
  }

  /** Last such frame; the stretch is at most 4096 frames long. */
  lastFrame(stretch: Stretch, passes: (loudness: number) => boolean): number | undefined {
    const samples = this.samples(stretch.from, Math.min(stretch.to, this.#layout.frames) - stretch.from)
    const index = samples.findLastIndex((sample) => passes(Math.abs(sample)))
    return index < 0 ? undefined : stretch.from + Math.floor(index / this.#layout.channels)
  }
}
