/** Level of an amplitude (1 is full scale) in dB; null for 0. */
export function amplitudeDb(amplitude: number): number | null {
  return amplitude > 0 ? 20 * Math.log10(amplitude) : null
}

/** Level of a mean square in dB re full scale squared; null for 0. */
export function powerDb(meanSquare: number): number | null {
  return meanSquare > 0 ? 10 * Math.log10(meanSquare) : null
}

/** Loudness of a weighted mean square in LUFS (ITU-R BS.1770-5, annex 1, equation 2); null for 0. */
export function loudnessLufs(weightedMeanSquare: number): number | null {
  return weightedMeanSquare > 0 ? -0.691 + 10 * Math.log10(weightedMeanSquare) : null
}

/** The weighted mean square that reads as this loudness. */
export function meanSquareOf(lufs: number): number {
  return 10 ** ((lufs + 0.691) / 10)
}
