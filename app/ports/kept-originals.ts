/** A file of an edition whose bytes the store keeps, as the edition had it when they entered. */
export interface KeptOriginal {
  /** Inside the edition. */
  readonly path: string
  readonly sha256: string
  readonly sizeBytes: number
}

/** What still needs the originals of an edition: names for people, sorted. */
export interface OriginalsNeed {
  readonly kind: 'licence' | 'build' | 'content'
  readonly name: string
}

/** Which originals the store keeps, for which edition. */
export interface KeptOriginalsReader {
  /** Sorted by path; bytes that a later scan saw changed stay listed. */
  listKeptOriginals(editionId: string): Promise<readonly KeptOriginal[]>
  /** Sorted by kind and name. */
  listOriginalsNeeds(editionId: string): Promise<readonly OriginalsNeed[]>
}

/** Writing; only inside `inTransaction`. */
export interface KeptOriginalsWriter {
  /** Adds to what is recorded as kept of an edition. @throws AppError `font/unknown` */
  addKeptOriginals(editionId: string, originals: readonly KeptOriginal[]): Promise<void>
  /**
   * Forgets that an edition's originals are kept, and all that was prepared of it. Whether anything
   * needs them is for the caller to ask before.
   *
   * @returns hashes that nothing on record needs any longer, prepared ones among them
   */
  dropKeptOriginals(editionId: string): Promise<readonly string[]>
}
