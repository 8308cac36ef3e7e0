/** Levels of a sound. Null where the sound gives none; the cause stands under `Measures.reasons`. */
export interface Levels {
  readonly integratedLufs: number | null
  readonly momentaryMaxLufs: number | null
  readonly shortTermMaxLufs: number | null
  readonly rangeLu: number | null
  readonly truePeakDbtp: number | null
  readonly samplePeakDbfs: number | null
  readonly rmsDbfs: number | null
}

/** How a loop's end meets its beginning. */
export interface Seam {
  /** |x[0] - x[N-1]| over the 99th percentile of |x[n] - x[n-1]|; above 1 it is likely to click. */
  readonly jumpRatio: number | null
  /** Lower of the levels of the first and last 10 ms against the median 10 ms level, in dB. */
  readonly dipDb: number | null
}

/** Everything measured on one sound in one pass; `null` always has its cause in `reasons`. */
export interface Measures {
  readonly levels: Levels
  /** Mean of the samples as a fraction of full scale, of the channel where it is largest. */
  readonly dcOffset: number | null
  /** Runs of 3 or more samples in a row at full scale, summed over channels. */
  readonly clippedRuns: number | null
  readonly onsetMs: number | null
  readonly leadingSilenceMs: number | null
  readonly trailingSilenceMs: number | null
  /** Share of the energy below 200 Hz, 0 to 1. */
  readonly lowShare: number | null
  readonly seam: Seam
  /** Key of a null above (`integratedLufs`, `seam.dipDb` ...) to a stable reason code. */
  readonly reasons: Readonly<Record<string, string>>
}

/** Whether the samples could not be got at, for want of a decoder or since it refused them. */
export function isUndecoded({ reasons }: Measures): boolean {
  return reasons['samplePeakDbfs'] === 'coding-not-decoded'
}
