import type { ByteSource } from '../../ports/bytes.ts'

/**
 * Small reads from a source through bytes already at hand. A WAV header is read in dozens of small
 * steps; a system call for each would cost more than the rest of the work on a small file.
 */
export class ByteWindow {
  readonly sizeBytes: number
  readonly #source: ByteSource
  readonly #head: Uint8Array
  readonly #spare = new Uint8Array(4096)
  #spareAt = -1
  #spareLength = 0

  /** @param head the first bytes of the source, as many as the caller has read already */
  constructor(source: ByteSource, head: Uint8Array) {
    this.sizeBytes = source.sizeBytes
    this.#source = source
    this.#head = head
  }

  /** Up to `length` (at most 4096) bytes from `at` on; fewer where the source ends. Valid until the next call. */
  bytes(at: number, length: number): Uint8Array {
    if (at >= this.sizeBytes || at < 0) return this.#head.subarray(0, 0)
    if (at + length <= this.#head.length) return this.#head.subarray(at, at + length)
    if (at < this.#spareAt || at + length > this.#spareAt + this.#spareLength) {
      this.#spareAt = at
      this.#spareLength = this.#source.readInto(this.#spare, at)
    }
    const from = at - this.#spareAt
    return this.#spare.subarray(from, Math.min(from + length, this.#spareLength))
  }

  /** A larger stretch, copied. */
  copy(at: number, length: number): Uint8Array {
    const target = new Uint8Array(Math.max(0, Math.min(length, this.sizeBytes - at)))
    const read = target.length === 0 ? 0 : this.#source.readInto(target, at)
    return target.subarray(0, read)
  }
}
