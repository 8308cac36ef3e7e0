import { writeSync } from 'node:fs'

/** Large enough that the cost of a call vanishes, small enough to stay in the processor's cache. */
const BUFFER_BYTES = 4 << 20
/** A hole up to this size is written as zeros instead of ending the run. */
const FILLED_GAP_BYTES = 64 << 10

/**
 * Writes ever later stretches of a file in large runs; what is never asked for stays a hole. Bytes
 * are put together in place: ask for space, fill it, take it.
 */
export class SequentialSink {
  readonly #handle: number
  readonly #buffer = Buffer.alloc(BUFFER_BYTES)
  #startsAt: number
  #length = 0

  /** @param startsAt nothing before it is touched */
  constructor(handle: number, startsAt: number) {
    this.#handle = handle
    this.#startsAt = startsAt
  }

  /**
   * Room for bytes at `offset`, which lies at or after the end of what was taken before: all of
   * `wanted` where that fits the buffer at all, else as much as there is.
   */
  spaceAt(offset: number, wanted: number): Buffer {
    const gap = offset - (this.#startsAt + this.#length)
    if (gap < 0) throw new RangeError('stretches overlap')
    const most = Math.min(wanted, BUFFER_BYTES)
    if (gap > FILLED_GAP_BYTES || this.#length + gap + most > BUFFER_BYTES) {
      this.flush()
      this.#startsAt = offset
    } else if (gap > 0) {
      this.#buffer.fill(0, this.#length, this.#length + gap)
      this.#length += gap
    }
    return this.#buffer.subarray(this.#length, this.#length + most)
  }

  /** Says that so many bytes of the last space are filled. */
  take(bytes: number): void {
    this.#length += bytes
  }

  flush(): void {
    for (let done = 0; done < this.#length;) {
      done += writeSync(this.#handle, this.#buffer, done, this.#length - done, this.#startsAt + done)
    }
    this.#startsAt += this.#length
    this.#length = 0
  }
}
