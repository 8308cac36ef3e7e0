import type { CardGeometry, ContentFile } from './content.ts'

/** A file as it is to be on a card: where, and which bytes. */
export interface CardFile {
  /** On the card, `/`-joined, from the root. */
  readonly path: string
  readonly sizeBytes: number
  readonly sha256: string
  readonly origin: ContentFile['origin']
}

/** One name in a directory. `firstCluster` is 0 for an empty file. */
export interface PlannedEntry {
  readonly kind: 'file' | 'folder'
  readonly name: string
  /** Eleven characters: name and extension padded with spaces, without the dot. */
  readonly shortName: string
  readonly firstCluster: number
  readonly sizeBytes: number
}

/** One directory; the root has the path `''`. */
export interface PlannedFolder {
  readonly path: string
  /** 0 for the root of a FAT16, which lies outside the clusters. */
  readonly firstCluster: number
  readonly clusterCount: number
  /** What `..` points to: 0 when the parent is the root. */
  readonly parentCluster: number
  readonly slotCount: number
  readonly entries: readonly PlannedEntry[]
}

/** The complete layout of a card before a byte is written. Folders and files in plan order. */
export interface Plan {
  readonly geometry: CardGeometry
  readonly folders: readonly PlannedFolder[]
  readonly files: readonly ContentFile[]
  readonly usedClusters: number
}

/** What differs between two images of equal plans. */
export interface ImageStamp {
  /** The fingerprint. */
  readonly label: string
  readonly volumeSerial: number
  /** ISO 8601, UTC, whole seconds. */
  readonly date: string
}
