/** Random access to bytes; synchronous, used inside workers. */
export interface ByteSource {
  readonly sizeBytes: number
  /**
   * Fills `target` from byte `at` on.
   * @returns bytes really read: fewer than `target.length` only where the source ends.
   */
  readInto(target: Uint8Array, at: number): number
}

/** SHA-256 in pieces. A source of hashers is a `() => Hasher`. */
export interface Hasher {
  update(bytes: Uint8Array): void
  digestHex(): string
}
export type NewHasher = () => Hasher

/** Asked now and then by long synchronous work; throws `Cancelled` once the user wants out. */
export type CancelCheck = () => void
