/** A list of numbers that grows without boxing them. */
export class NumberList {
  length = 0
  #values = new Float64Array(256)

  push(value: number): void {
    if (this.length === this.#values.length) {
      const wider = new Float64Array(this.length * 2)
      wider.set(this.#values)
      this.#values = wider
    }
    this.#values[this.length++] = value
  }

  /** The numbers so far, as a view. */
  values(): Float64Array {
    return this.#values.subarray(0, this.length)
  }
}
