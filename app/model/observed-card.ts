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
    /** Of the whole card where its image is at hand, else of the volume. */
    readonly sizeBytes: number
    /** Null where a card has none, or it cannot be seen: a mounted card shows its volume only. */
    readonly partitionTable: 'mbr' | null
    /** What both the partition and its data start at a whole of; null where it cannot be seen. */
    readonly alignmentBytes: number | null
  } | null
}
