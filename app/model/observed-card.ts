import type { SoundInspection } from './sound.ts'

/** A file of a card that plays, as it was found. */
export interface ObservedFile {
  /** Below the card's root, `/`-joined. */
  readonly path: string
  readonly sizeBytes: number
  readonly kind: 'sound' | 'companion' | 'litter' | 'other'
  /** Of sounds only. */
  readonly inspection: SoundInspection | null
  /** Of small text files of the root only: one of them may be the board's config. */
  readonly text: string | null
}

/** A card that plays, as it was found: files in the order of their directories. */
export interface ObservedCard {
  readonly files: readonly ObservedFile[]
  /** Null where it is not known, as of a folder that was copied from a card. */
  readonly volume: {
    readonly fileSystem: 'fat16' | 'fat32'
    readonly clusterBytes: number
    readonly sizeBytes: number
  } | null
}
