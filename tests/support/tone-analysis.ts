/** What is left of a tone when the tone is taken out, and the tone itself. */
export interface ToneReading {
  /** Everything but the tone against the tone, in dB: total harmonic distortion and noise. */
  readonly distortionDb: number
  /** Peak of the tone re full scale, in dB. */
  readonly levelDb: number
}

/**
 * Fits one sine of a known frequency by least squares to the middle of a sound and compares it with
 * the rest (IEEE Std 1057-2017, section 4.3, three-parameter sine fit; distortion and noise as AES17
 * defines it, but without its filters).
 */
export function toneReading(samples: Float64Array, sampleRateHz: number, frequencyHz: number): ToneReading {
  const from = Math.floor(samples.length * 0.2)
  const to = Math.floor(samples.length * 0.8)
  let [ss, sc, cc, xs, xc] = [0, 0, 0, 0, 0]
  const angle = (frame: number) => (2 * Math.PI * frequencyHz * frame) / sampleRateHz
  for (let frame = from; frame < to; frame++) {
    const s = Math.sin(angle(frame))
    const c = Math.cos(angle(frame))
    const x = samples[frame] ?? 0
    ss += s * s
    sc += s * c
    cc += c * c
    xs += x * s
    xc += x * c
  }
  const determinant = ss * cc - sc * sc
  const a = (xs * cc - xc * sc) / determinant
  const b = (xc * ss - xs * sc) / determinant
  let rest = 0
  let tone = 0
  for (let frame = from; frame < to; frame++) {
    const fitted = a * Math.sin(angle(frame)) + b * Math.cos(angle(frame))
    tone += fitted * fitted
    rest += ((samples[frame] ?? 0) - fitted) ** 2
  }
  return { distortionDb: 10 * Math.log10(rest / tone), levelDb: 20 * Math.log10(Math.hypot(a, b)) }
}

export function rmsDb(samples: Float64Array): number {
  return 10 * Math.log10(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length)
}
