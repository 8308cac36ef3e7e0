import type { FileHandle } from 'node:fs/promises'

/** So many new bytes are worth a flush of their own. */
const FLUSHED_TOGETHER_BYTES = 48 << 20

/**
 * Brings a file to the disk while it is still being written: left to itself, the system would begin
 * when all is written, and the end would wait for all of it.
 */
export class EarlyFlush {
  readonly #handle: FileHandle
  #flushedBytes = 0
  #flushing: Promise<void> | null = null
  #failure: unknown = null

  constructor(handle: FileHandle) {
    this.#handle = handle
  }

  /** @param writtenBytes so far, by whichever handle */
  note(writtenBytes: number): void {
    if (this.#flushing !== null || writtenBytes - this.#flushedBytes < FLUSHED_TOGETHER_BYTES) return
    this.#flushedBytes = writtenBytes
    this.#flushing = this.#handle
      .datasync()
      .catch((error: unknown) => {
        // A system tells a failed write once; here it must not be lost.
        this.#failure ??= error
      })
      .finally(() => {
        this.#flushing = null
      })
  }

  /** Waits for what is under way. */
  async settle(): Promise<void> {
    await this.#flushing
  }

  /** Brings the rest to the disk. @throws what this or any flush before met */
  async finish(): Promise<void> {
    await this.#flushing
    if (this.#failure !== null) throw this.#failure
    await this.#handle.sync()
  }
}
