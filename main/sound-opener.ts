/** One sound's original bytes, ready to be read in part. */
export interface OpenedSound {
  readonly sizeBytes: number
  /** Bytes from `start` up to, not including, `end`. Cancelling the stream frees the file. */
  read(start: number, end: number): ReadableStream<Uint8Array>
}

/**
 * Opens a sound of the library by its id, wherever its original lies.
 * @throws AppError where there is no such sound, or its file is gone.
 */
export type OpenSound = (soundId: string) => Promise<OpenedSound>
