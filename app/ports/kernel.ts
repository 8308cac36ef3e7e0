/** How the samples that a kernel is fed lie in its input; whole numbers are little-endian. */
export type KernelEncoding = 'u8' | 's16' | 's24' | 's32' | 'f32' | 'f64'

/** A kernel measures at most this many channels. */
export const KERNEL_CHANNELS_MAX = 8

/** Below this a hop of 10 ms would hold too few frames to mean anything. */
export const HOP_RATE_LOWEST_HZ = 1600

/** Frames in one bin of the waveform envelope; every feed but the last must be a multiple of it. */
export const ENVELOPE_FRAMES = 256

export interface KernelSetup {
  readonly encoding: KernelEncoding
  /** 1 to KERNEL_CHANNELS_MAX. */
  readonly channels: number
  /** Frames a second that hops are counted by: the sample rate, but no lower than HOP_RATE_LOWEST_HZ. */
  readonly hopRateHz: number
  /** Weight of each channel in the loudness sum (ITU-R BS.1770-5, table 3); 0 leaves it out. */
  readonly channelWeights: readonly number[]
  /** A sample at or above this (as a fraction of full scale), or at or below -1, is clipped. */
  readonly fullScale: number
  /** Second-order sections of the K-weighting and of the 200 Hz high-pass, see app/audio/kernel/filters.ts. */
  readonly filters: KernelFilters
}

/**
 * Coefficients for one sample rate. The two high-passes share the numerator 1 -2 1, so that they are
 * given by their denominators alone: y[n] = x[n] - 2x[n-1] + x[n-2] - a1 y[n-1] - a2 y[n-2].
 */
export interface KernelFilters {
  readonly weightingHighPass: { readonly a1: number; readonly a2: number }
  readonly weightingShelf: {
    readonly b0: number
    readonly b1: number
    readonly b2: number
    readonly a1: number
    readonly a2: number
  }
  readonly lowCut: { readonly a1: number; readonly a2: number }
}

/**
 * What one feed gave. A hop is the stretch of frames round(k * rate / 100) to
 * round((k + 1) * rate / 100); two hops make the 20 ms step of the loudness windows.
 * The arrays are views that hold until the kernel is used again.
 */
export interface KernelYield {
  /** Lowest and highest sample of each bin of ENVELOPE_FRAMES, over all channels. */
  readonly binLowest: Float32Array
  readonly binHighest: Float32Array
  /** Sum of the K-weighted squares of each finished hop, over channels by weight. */
  readonly hopLoudness: Float64Array
  /** Sum of squares of each finished hop, a value a channel: hop 0 channel 0, hop 0 channel 1 ... */
  readonly hopEnergy: Float64Array
}

/** What remains to be known at the end; per-channel arrays have one entry a channel. */
export interface KernelTotals {
  /** K-weighted energy after the last whole hop, the ring-out over the silence asked for included. */
  readonly tailLoudness: number
  readonly sums: readonly number[]
  readonly squareSums: readonly number[]
  /** Energy after the low-cut, over all channels, before its gain `lowCutGain` squared. */
  readonly lowCutEnergy: number
  /** Largest absolute sample. */
  readonly samplePeak: number
  /** Largest absolute value between the samples, as a fraction of full scale. */
  readonly truePeak: number
  /** Runs of three or more samples in a row at full scale. */
  readonly clippedRuns: number
  /** Samples that were no number, infinite or far beyond full scale; they were taken as 0. */
  readonly wildSamples: number
  /** For each channel, how many steps |x[n] - x[n-1]| fell in each class of stepClasses. */
  readonly stepCounts: readonly Uint32Array[]
}

/**
 * The measuring of samples: synchronous, one sound at a time, memory bounded. Two implementations
 * agree: the WebAssembly one and the plain one in app/audio/kernel.
 */
export interface Kernel {
  /** Where the caller puts bytes before `feed`; the same memory for the kernel's whole life. */
  readonly input: Uint8Array
  begin(setup: KernelSetup): void
  /** Measures `frames` frames whose bytes begin at `at` in `input`. */
  feed(at: number, frames: number): KernelYield
  /** @param silentFrames zeros that follow the sound in `tailLoudness` only */
  finish(silentFrames: number): KernelTotals
}
