/** Frames that a rounder takes at a time. */
export const ROUNDED_FRAMES_MAX = 16_384

export interface RoundingSetup {
  readonly channels: number
  /** 8, 16, 24 or 32. */
  readonly bitDepth: number
  /** What every sample is multiplied by first. */
  readonly gain: number
  /** Seed of the dither, hexadecimal; null where the samples are whole numbers of this depth already. */
  readonly ditherSeed: string | null
}

export interface RoundedBlock {
  /** Frame after frame as WAV holds them: little-endian, 8 bit unsigned. Hold until the rounder is used again. */
  readonly bytes: Uint8Array
  /** How many samples lay beyond full scale and were cut to it. */
  readonly cutSamples: number
}

/**
 * Makes whole numbers of samples, block after block of one sound. Two implementations agree byte for
 * byte: the WebAssembly one, and the plain one in app/audio/prepare.
 */
export interface SampleRounder {
  begin(setup: RoundingSetup): void
  /** @param samples one array a channel, of which the first `frames` count: at most ROUNDED_FRAMES_MAX */
  round(samples: readonly Float64Array[], frames: number): RoundedBlock
}
