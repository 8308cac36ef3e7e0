/**
 * Interpolators for the true peak (ITU-R BS.1770-5, annex 2, asks for at least 4x). Both are
 * Kaiser-windowed sincs at the quarter points between two samples. The coarse one (12 taps a phase)
 * only finds where a peak may lie; the fine one (128 taps a phase) measures it. The standard's own 12
 * taps read up to 2 dB low near half the rate, which is why they only find.
 */
export const PHASES = 4
export const COARSE_TAPS = 12
export const FINE_TAPS = 128
/** Candidates are places where the coarse reading is within 2 dB of the peak found so far. */
export const CANDIDATE_RATIO = 10 ** (-2 / 20)

/** Taps of phases 1, 2, 3: tap k of phase p weighs sample n - taps/2 + 1 + k for the place n + p/4. */
export const coarseTaps: readonly Float64Array[] = [1, 2, 3].map((phase) =>
  interpolator(phase, COARSE_TAPS, 5),
)
export const fineTaps: readonly Float64Array[] = [1, 2, 3].map((phase) => interpolator(phase, FINE_TAPS, 5))

function interpolator(phase: number, taps: number, beta: number): Float64Array {
  const half = taps / 2
  const weights = new Float64Array(taps)
  let sum = 0
  for (let index = 0; index < taps; index++) {
    const distance = index - (half - 1) - phase / PHASES
    const weight = sinc(distance) * besselI0(beta * Math.sqrt(Math.max(0, 1 - (distance / half) ** 2)))
    weights[index] = weight
    sum += weight
  }
  return weights.map((weight) => weight / sum)
}

function sinc(x: number): number {
  return x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x)
}

/** Modified Bessel function of the first kind, order 0, by its power series. */
function besselI0(x: number): number {
  let term = 1
  let sum = 1
  for (let index = 1; term > sum * 1e-17; index++) {
    term *= (x / 2 / index) ** 2
    sum += term
  }
  return sum
}

/**
 * What bounds a fine reading: it is at most the louder of the two samples beside it, plus `bend` times
 * the sharpest second difference of the samples around, plus `rest` times the loudest of them. Taken
 * from the taps less those of a straight line, summed by parts twice. A parabola through three
 * readings rises above the highest by at most an eighth of their second difference, which the bound
 * includes. So a place whose bound is below the peak found so far need not be searched.
 */
export function fineReadingBounds(): { readonly bend: number; readonly rest: number } {
  const bounds = fineTaps.map((taps, index) => sumsByParts(taps, index + 1))
  const bend = Math.max(...bounds.map((bound) => bound.bend))
  const rest = Math.max(...bounds.map((bound) => bound.rest))
  return { bend: bend + (1 / 4 + 4 * bend) / 8, rest: rest * 1.5 }
}

function sumsByParts(taps: Float64Array, phase: number): { bend: number; rest: number } {
  let once = 0
  let twice = 0
  let bend = 0
  for (let index = 0; index < taps.length - 1; index++) {
    const line =
      index === taps.length / 2 - 1 ? 1 - phase / PHASES : index === taps.length / 2 ? phase / PHASES : 0
    once += (taps[index] ?? 0) - line
    twice += once
    if (index < taps.length - 2) bend += Math.abs(twice)
  }
  return { bend, rest: 2 * Math.abs(twice) }
}
