/** Two even numbers of 16 bits, one from each half, become one from -1 to 1. */
const SCALE = 2 ** -16

/**
 * Noise of a triangular distribution, -1 to 1, always the same for the same seed: the sum of two even
 * ones. As wide as two steps of the samples to come, it makes their rounding error a steady noise
 * that does not follow the sound.
 * Sources: S. P. Lipshitz, R. A. Wannamaker, J. Vanderkooy, "Quantization and Dither: A Theoretical
 * Survey", J. Audio Eng. Soc. 40 (1992); the generator is C. Doty-Humphrey's sfc32, from memory.
 */
export class SeededDither {
  #a: number
  #b: number
  #c: number
  #counter = 1

  /** @param seed hexadecimal, at least 24 digits */
  constructor(seed: string) {
    const [a, b, c] = ditherState(seed)
    this.#a = a
    this.#b = b
    this.#c = c
    // The first numbers are still like the seed.
    this.fill(new Float64Array(12))
  }

  /** Fills an array. The state is held in local numbers meanwhile: this runs for every sample there is. */
  fill(target: Float64Array): void {
    let a = this.#a
    let b = this.#b
    let c = this.#c
    let counter = this.#counter
    for (let index = 0; index < target.length; index++) {
      const bits = (((a + b) | 0) + counter) | 0
      counter = (counter + 1) | 0
      a = b ^ (b >>> 9)
      b = (c + (c << 3)) | 0
      c = (((c << 21) | (c >>> 11)) + bits) | 0
      target[index] = ((bits & 0xffff) + (bits >>> 16) - 0xffff) * SCALE
    }
    this.#a = a
    this.#b = b
    this.#c = c
    this.#counter = counter
  }
}

/** Where the generator begins. @param seed hexadecimal, at least 24 digits */
export function ditherState(seed: string): readonly [a: number, b: number, c: number] {
  const word = (index: number) => Number.parseInt(seed.slice(index * 8, index * 8 + 8), 16) | 0
  return [word(0), word(1), word(2)]
}
