/**
 * Content-addressed bytes (SHA-256) of the workshop. What is in it is never changed; a file is
 * hashed while it enters and whenever it is copied out, so that wrong bytes never reach a card.
 */
export interface ContentStore {
  has(sha256: string): Promise<boolean>
  /** Path of the stored bytes for readers inside workers; undefined where not kept. */
  pathOf(sha256: string): Promise<string | undefined>
  /**
   * Copies a file in, checking that it is what it is said to be.
   * @throws AppError `store/changed` where its bytes have another hash, `store/disk-full`, `store/unreadable`
   */
  keepFile(path: string, sha256: string): Promise<void>
  /**
   * Takes a file over that was written for the store on the same disk and hashed from there: it is
   * moved, not copied. Elsewhere it is copied, as `keepFile` does. @throws as `keepFile`
   */
  takeFile(path: string, sha256: string): Promise<void>
  /** Keeps bytes at hand, such as an entry of an archive. @throws as `keepFile` */
  keepBytes(bytes: Uint8Array, sha256: string): Promise<void>
  /**
   * Moves a copy out of the way whose bytes are no longer what they were kept as: nothing is thrown away,
   * and the place is free for whole ones. What was found whole, or came in, is not looked at again by the
   * same process, unless `again` is told.
   * @returns where it lies now; null where the copy is whole, or there is none
   * @throws AppError `store/unwritable`
   */
  putAsideDamaged(sha256: string, again?: 'again'): Promise<string | null>
  /**
   * Takes bytes out for good. Whether anything needs them is for the caller to know.
   * @returns how many they were; null where they were not there
   * @throws AppError `store/unwritable`
   */
  remove(sha256: string): Promise<number | null>
}
