/** The file system below a folder, as far as the system tells. */
export interface TargetVolume {
  /** In words: `FAT32`, `exFAT`, `NTFS`, `ext4`; empty where the system does not tell. */
  readonly fileSystem: string
  readonly isFat: boolean
  /** Null for what is no FAT, and where neither name nor cluster count tell which. */
  readonly fatType: 'fat12' | 'fat16' | 'fat32' | null
  readonly clusterBytes: number | null
  readonly sizeBytes: number | null
  readonly freeBytes: number | null
}

/** A drive that a card may be in. */
export interface FoundDrive {
  /** Where its files are; null while it is not mounted. */
  readonly path: string | null
  readonly label: string
  readonly device: string
  readonly model: string
  /** `usb`, `mmc`; empty where the system does not tell. */
  readonly connection: string
  readonly volume: TargetVolume
}

/** Why nothing is ever written to a place. */
export type ForbiddenPlace =
  | 'the root of the system'
  | 'a folder of the system'
  | 'a disk of the system'
  | 'the home folder'
  | 'a folder that others lie in'

/** Where content is to be written file by file. */
export interface TargetPlace {
  /** Absolute, links followed. */
  readonly path: string
  /** `card`: the root of a volume of its own; `folder`: a place on a disk, to be copied from. */
  readonly kind: 'card' | 'folder'
  readonly volume: TargetVolume
  readonly forbidden: ForbiddenPlace | null
  /** Of the places to keep away from, the first that is this one, lies in it or around it; null where none does. */
  readonly touches: string | null
}

/** Everything below a target, by its names. Paths are `/`-joined. */
export interface TargetListing {
  /** In the order of the directories, depth first. */
  readonly files: readonly { readonly path: string; readonly sizeBytes: number }[]
  /** Folders, each after the one it lies in. */
  readonly folders: readonly string[]
  /** Folders in which nothing is. */
  readonly emptyFolders: readonly string[]
  /** Links and special files. */
  readonly others: readonly string[]
  /** What operating systems left; folders are listed and not entered. */
  readonly litter: readonly { readonly path: string; readonly isFolder: boolean }[]
  /** Temporary folders that an interrupted run left. */
  readonly leftovers: readonly string[]
}

/** What came of filling a target. */
export interface FilledTarget {
  readonly filesWritten: number
  readonly bytesWritten: number
  /** Files that were right already. */
  readonly filesLeft: number
  readonly removed: readonly string[]
  readonly litterRemoved: readonly string[]
  /** Whether free places in the used directory had broken the order, and everything was seated anew. */
  readonly wasReseated: boolean
}
