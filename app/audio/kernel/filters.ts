import type { KernelFilters } from '../../ports/kernel.ts'

/** Rates for which the loudness filters are derived; outside them loudness is not given. */
export const LOUDNESS_RATES_HZ = { lowest: 8000, highest: 192_000 } as const
/** The share of energy below this frequency is what a small speaker cannot give. */
export const LOW_CUT_HZ = 200

/**
 * The K-weighting of ITU-R BS.1770-5 (annex 1, tables 1 and 2) for any sample rate, and the low-cut.
 * The standard gives coefficients for 48 kHz only; other rates come from the analogue prototype by
 * the bilinear transform. Its centre frequencies, gain and Q are from memory (they are in common
 * use) and reproduce both tables at 48 kHz within 1e-11, which a test holds.
 */
export function kernelFilters(sampleRateHz: number): KernelFilters {
  const shelfHz = Math.min(1681.974450955533, sampleRateHz * 0.45)
  const shelfQ = 0.7071752369554196
  const high = 10 ** (3.999843853973347 / 20)
  const band = high ** 0.4996667741545416
  const k = Math.tan((Math.PI * shelfHz) / sampleRateHz)
  const a0 = 1 + k / shelfQ + k * k
  return {
    weightingShelf: {
      b0: (high + (band * k) / shelfQ + k * k) / a0,
      b1: (2 * (k * k - high)) / a0,
      b2: (high - (band * k) / shelfQ + k * k) / a0,
      a1: (2 * (k * k - 1)) / a0,
      a2: (1 - k / shelfQ + k * k) / a0,
    },
    weightingHighPass: highPassPoles(38.13547087602444, 0.5003270373238773, sampleRateHz),
    lowCut: highPassPoles(LOW_CUT_HZ, Math.SQRT1_2, sampleRateHz),
  }
}

/** Gain that the low-cut leaves out: its numerator is 1 -2 1, unscaled. */
export function highPassGain(frequencyHz: number, q: number, sampleRateHz: number): number {
  const k = Math.tan((Math.PI * Math.min(frequencyHz, sampleRateHz * 0.45)) / sampleRateHz)
  return 1 / (1 + k / q + k * k)
}

/** Denominator of a second-order high-pass (bilinear transform; Q of 0.7071 is Butterworth's). */
export function highPassPoles(
  frequencyHz: number,
  q: number,
  sampleRateHz: number,
): { a1: number; a2: number } {
  const k = Math.tan((Math.PI * Math.min(frequencyHz, sampleRateHz * 0.45)) / sampleRateHz)
  const a0 = 1 + k / q + k * k
  return { a1: (2 * (k * k - 1)) / a0, a2: (1 - k / q + k * k) / a0 }
}
