/** What tells which content a card holds, before it is read as a whole. */
export interface CardIdentity {
  readonly kind: 'image' | 'folder'
  /** The volume's label; null for a folder, and where no file system is found. */
  readonly label: string | null
  /** Small text files of the root: one of them may be the credits. */
  readonly texts: readonly { readonly path: string; readonly text: string }[]
}

/** What an independent reader finds on a card. */
export interface CardReading {
  /** In the order of the directories. */
  readonly files: readonly { readonly path: string; readonly sizeBytes: number; readonly sha256: string }[]
  /** What could not be read and what is wrong with the file system, each in one sentence. */
  readonly faults: readonly string[]
  /** SHA-256 of each stretch that was asked for; null where the image ends before it does. */
  readonly stretchHashes: readonly (string | null)[]
  /** What operating systems left in a folder; it was not read. */
  readonly litter?: readonly string[]
  /** Whether a folder's files are in the order in which a FAT has their entries. */
  readonly isInEntryOrder?: boolean
}

/** A run of an image's bytes. */
export interface ImageStretch {
  readonly offset: number
  readonly sizeBytes: number
}
