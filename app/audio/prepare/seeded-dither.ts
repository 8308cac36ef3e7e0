/** Two even numbers of 16 bits, one from each half, become one from -1 to 1. */
const SCALE = 2 ** -16

/** Generators that take turns, sample by sample: four of them fill the lanes of a vector. */
export const DITHER_LANES = 4
/** The first numbers are still like the seed. */
export const DITHER_PASSED_OVER = 16

/**
 * Noise of a triangular distribution, -1 to 1, always the same for the same seed: the sum of two even
 * ones. As wide as two steps of the samples to come, it makes their rounding error a steady noise
 * that does not follow the sound.
 * Sources: S. P. Lipshitz, R. A. Wannamaker, J. Vanderkooy, "Quantization and Dither: A Theoretical
 * Survey", J. Audio Eng. Soc. 40 (1992); the generator is C. Doty-Humphrey's sfc32, from memory.
 */
export class SeededDither {
  readonly #states: Int32Array
  readonly #noise = new Float64Array(DITHER_LANES)
  #counter = 1
  /** How many of the last numbers, one a generator, are used up. */
  #used = DITHER_LANES

  /** @param seed hexadecimal, at least 24 digits */
  constructor(seed: string) {
    this.#states = Int32Array.from(ditherStates(seed).flat())
    for (let index = 0; index < DITHER_PASSED_OVER; index++) this.#draw()
  }

  /** Fills an array, going on where the last one ended. */
  fill(target: Float64Array): void {
    for (let index = 0; index < target.length; index++) {
      if (this.#used === DITHER_LANES) this.#draw()
      target[index] = this.#noise[this.#used++] ?? 0
    }
  }

  /** The next number of each generator. */
  #draw(): void {
    const states = this.#states
    for (let lane = 0; lane < DITHER_LANES; lane++) {
      const at = 3 * lane
      const b = states[at + 1] ?? 0
      const c = states[at + 2] ?? 0
      const bits = ((((states[at] ?? 0) + b) | 0) + this.#counter) | 0
      states[at] = b ^ (b >>> 9)
      states[at + 1] = (c + (c << 3)) | 0
      states[at + 2] = (((c << 21) | (c >>> 11)) + bits) | 0
      this.#noise[lane] = ((bits & 0xffff) + (bits >>> 16) - 0xffff) * SCALE
    }
    this.#counter = (this.#counter + 1) | 0
    this.#used = 0
  }
}

/** Where each generator begins: apart from one another by a number. @param seed hexadecimal, at least 24 digits */
export function ditherStates(seed: string): (readonly [a: number, b: number, c: number])[] {
  const word = (index: number) => Number.parseInt(seed.slice(index * 8, index * 8 + 8), 16) | 0
  return Array.from({ length: DITHER_LANES }, (_, lane) => [word(0), word(1), word(2) ^ lane] as const)
}
