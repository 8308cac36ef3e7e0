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
    const word = (index: number) => Number.parseInt(seed.slice(index * 8, index * 8 + 8), 16) | 0
    this.#a = word(0)
    this.#b = word(1)
    this.#c = word(2)
    for (let turn = 0; turn < 12; turn++) this.#bits()
  }

  next(): number {
    return (this.#bits() + this.#bits()) / 2 ** 32
  }

  /** 32 even bits, as a signed number. */
  #bits(): number {
    const sum = (((this.#a + this.#b) | 0) + this.#counter) | 0
    this.#counter = (this.#counter + 1) | 0
    this.#a = this.#b ^ (this.#b >>> 9)
    this.#b = (this.#c + (this.#c << 3)) | 0
    this.#c = (((this.#c << 21) | (this.#c >>> 11)) + sum) | 0
    return sum
  }
}
