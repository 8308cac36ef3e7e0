import { ENVELOPE_FRAMES } from '../../ports/kernel.ts'

/** One zoom level: the lowest and highest sample of each stretch of `framesPerBin` frames, -127 to 127. */
export interface WaveformLevel {
  readonly framesPerBin: number
  /** lowest, highest, lowest, highest ... */
  readonly pairs: Int8Array
}

/** A sound's waveform for drawing, all channels together; levels from fine to coarse. */
export interface Waveform {
  readonly frames: number
  readonly levels: readonly WaveformLevel[]
}

/** Each level has a quarter of the bins of the one before. */
const ZOOM = 4
const COARSEST_BINS = 64
/** Longer sounds get wider bins, so that memory stays bounded: 131072 bins of 256 frames are 12 minutes. */
const MOST_BINS = 1 << 17
const HEADER_BYTES = 24
const MAGIC = 0x31504157
const FULL = 127

/** Collects the envelope of a sound while it is measured. */
export class WaveformBuilder {
  readonly #frames: number
  readonly #mergeBins: number
  readonly #finest: Int8Array
  #bin = 0

  /** @param bytesPerFrame of the sound; narrow ones get wider bins, so that peaks stay below 1 % of it */
  constructor(frames: number, bytesPerFrame: number) {
    this.#frames = frames
    let merge = bytesPerFrame < 2 ? 2 : 1
    while (Math.ceil(frames / (ENVELOPE_FRAMES * merge)) > MOST_BINS) merge *= 2
    this.#mergeBins = merge
    this.#finest = new Int8Array(Math.ceil(frames / (ENVELOPE_FRAMES * merge)) * 2)
  }

  add(lowest: Float32Array, highest: Float32Array): void {
    for (let index = 0; index < lowest.length; index++, this.#bin++) {
      const at = Math.floor(this.#bin / this.#mergeBins) * 2
      const isFirst = this.#bin % this.#mergeBins === 0
      const low = Math.max(-FULL, Math.floor((lowest[index] ?? 0) * FULL))
      const high = Math.min(FULL, Math.ceil((highest[index] ?? 0) * FULL))
      this.#finest[at] = isFirst ? low : Math.min(low, this.#finest[at] ?? 0)
      this.#finest[at + 1] = isFirst ? high : Math.max(high, this.#finest[at + 1] ?? 0)
    }
  }

  /** The waveform as bytes: a 24-byte header, then the pairs of each level, fine to coarse. */
  pack(): Uint8Array {
    const levels = [this.#finest]
    for (let finer = this.#finest; finer.length / 2 > COARSEST_BINS;) {
      finer = coarser(finer)
      levels.push(finer)
    }
    const bytes = new Uint8Array(HEADER_BYTES + levels.reduce((sum, level) => sum + level.length, 0))
    const view = new DataView(bytes.buffer)
    view.setUint32(0, MAGIC, true)
    view.setUint32(4, levels.length, true)
    view.setFloat64(8, this.#frames, true)
    view.setFloat64(16, ENVELOPE_FRAMES * this.#mergeBins, true)
    let at = HEADER_BYTES
    for (const level of levels) {
      bytes.set(new Uint8Array(level.buffer, level.byteOffset, level.length), at)
      at += level.length
    }
    return bytes
  }
}

function coarser(finer: Int8Array): Int8Array {
  const bins = Math.ceil(finer.length / 2 / ZOOM)
  const pairs = new Int8Array(bins * 2)
  for (let bin = 0; bin < bins; bin++) {
    let low = FULL
    let high = -FULL
    for (let at = bin * ZOOM * 2; at < Math.min((bin + 1) * ZOOM * 2, finer.length); at += 2) {
      low = Math.min(low, finer[at] ?? 0)
      high = Math.max(high, finer[at + 1] ?? 0)
    }
    pairs[bin * 2] = low
    pairs[bin * 2 + 1] = high
  }
  return pairs
}

/** Reads what `pack` wrote; undefined where the bytes are not that, or are cut. */
export function readWaveform(bytes: Uint8Array): Waveform | undefined {
  if (bytes.length < HEADER_BYTES) return undefined
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  if (view.getUint32(0, true) !== MAGIC) return undefined
  const frames = view.getFloat64(8, true)
  let framesPerBin = view.getFloat64(16, true)
  const levels: WaveformLevel[] = []
  let at = HEADER_BYTES
  let bins = Math.ceil(frames / framesPerBin)
  for (let index = 0; index < view.getUint32(4, true); index++) {
    if (!Number.isSafeInteger(bins) || at + bins * 2 > bytes.length) return undefined
    levels.push({ framesPerBin, pairs: new Int8Array(bytes.buffer, bytes.byteOffset + at, bins * 2) })
    at += bins * 2
    bins = Math.ceil(bins / ZOOM)
    framesPerBin *= ZOOM
  }
  return at === bytes.length ? { frames, levels } : undefined
}
