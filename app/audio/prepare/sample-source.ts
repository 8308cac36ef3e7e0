/** One array a channel; samples as fractions of full scale. */
export type Samples = readonly Float64Array[]

/** Whether typed arrays hold their bytes as WAV files do. */
export const IS_LITTLE_ENDIAN = new Uint8Array(Uint16Array.of(1).buffer)[0] === 1

/** Frames that are worked on at a time: small enough for the processor's cache, few calls a second. */
export const BLOCK_FRAMES = 16_384

/** A sound to read anywhere in. Sources wrap one another, and none holds a whole sound in memory. */
export interface SampleSource {
  readonly channels: number
  readonly frames: number
  readonly sampleRateHz: number
  /**
   * Fills the first `frames` samples of each array of `into`; frames outside the sound are 0.
   * @param from may be negative or behind the end
   */
  read(from: number, frames: number, into: Samples): void
}

/** A sound that is read once, from its first frame on. */
export interface SampleStream {
  readonly channels: number
  readonly sampleRateHz: number
  /** Fills the first `frames` samples of each array with the next ones; 0 behind the end. */
  next(frames: number, into: Samples): void
}

/** Silence: an array of frames for each channel. */
export function newSamples(channels: number, frames: number): Float64Array[] {
  return Array.from({ length: channels }, () => new Float64Array(frames))
}

/** Samples in memory as a source: for sounds made in memory, and tests. */
export function memorySource(samples: Samples, sampleRateHz: number): SampleSource {
  const frames = samples[0]?.length ?? 0
  return {
    channels: samples.length,
    frames,
    sampleRateHz,
    read: (from, count, into) => {
      into.forEach((target, channel) => {
        target.fill(0, 0, count)
        const first = Math.max(0, from)
        const last = Math.min(frames, from + count)
        if (last > first) target.set((samples[channel] ?? target).subarray(first, last), first - from)
      })
    },
  }
}

/** A source read from its beginning to its end. */
export function streamOf(source: SampleSource): SampleStream {
  let at = 0
  return {
    channels: source.channels,
    sampleRateHz: source.sampleRateHz,
    next: (frames, into) => {
      source.read(at, frames, into)
      at += frames
    },
  }
}

/** Calls `visit` with block after block of the whole sound; the arrays hold until the next call. */
export function eachBlock(source: SampleSource, visit: (block: Samples, from: number) => void): void {
  const room = newSamples(source.channels, BLOCK_FRAMES)
  for (let from = 0; from < source.frames; from += BLOCK_FRAMES) {
    const frames = Math.min(BLOCK_FRAMES, source.frames - from)
    source.read(from, frames, room)
    visit(frames === BLOCK_FRAMES ? room : room.map((samples) => samples.subarray(0, frames)), from)
  }
}

/** A whole sound in memory: for short ones, and tests. */
export function readAll(source: SampleSource): Float64Array[] {
  const samples = newSamples(source.channels, source.frames)
  source.read(0, source.frames, samples)
  return samples
}
