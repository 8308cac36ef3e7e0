/** One sound's bytes, ready to be read in part. */
export interface OpenedSound {
  readonly sizeBytes: number
  /** Bytes from `start` up to, not including, `end`. Cancelling the stream frees the file. */
  read(start: number, end: number): ReadableStream<Uint8Array>
}

/**
 * Opens a sound of the library by its id: its original, wherever that lies, or what was prepared
 * from it for a board. Both are held against their hash first.
 *
 * @param preparedForBoardId asks for what was prepared for this board; undefined for the original
 * @throws AppError where there is no such sound, or its file is gone or no longer what it was.
 */
export type OpenSound = (soundId: string, preparedForBoardId?: string) => Promise<OpenedSound>
