import type { Companion, Sound } from './sound.ts'

/** A folder or archive that the user asked to scan. */
export interface ScanRoot {
  readonly id: string
  readonly path: string
  readonly kind: 'folder' | 'archive'
  readonly addedAt: string
  readonly lastScanAt: string | null
}

/** One place where an edition's files lie. */
export interface EditionPlace {
  readonly rootId: string
  /** Absolute path of the folder, or of the archive file. */
  readonly path: string
  /** Folder inside the archive (nested archives joined by `!/`); null for a plain folder. */
  readonly innerPath: string | null
  readonly state: 'present' | 'gone'
}

/** A creator's named work, with all that is shown of it in a list. */
export interface Font {
  readonly id: string
  readonly name: string
  readonly creatorId: string | null
  readonly creatorName: string | null
  /** Taken from the parent folder; a proposal until the user sets the creator. */
  readonly proposedCreatorName: string | null
}

/** One folder or archive of sounds. */
export interface EditionSummary {
  readonly id: string
  readonly font: Font
  /** Version of the font as its folder's name tells, or as set; empty where none is known. */
  readonly version: string
  readonly state: 'present' | 'gone'
  readonly places: readonly EditionPlace[]
  /** Naming scheme that reads its names; null while its roles are not known. */
  readonly schemeId: string | null
  readonly soundCount: number
  readonly companionCount: number
  readonly sizeBytes: number
  readonly firstSeenAt: string
}

export interface Edition extends EditionSummary {
  readonly sounds: readonly Sound[]
  readonly companions: readonly Companion[]
  /** Files of operating systems and the like that are left out of every card. */
  readonly litter: readonly string[]
}

/** Something a scan could not read, or left out, and why. */
export interface ScanProblem {
  readonly path: string
  readonly code: string
  readonly message: string
  /** A `fault` makes the scan exit with 1; a `note` was left out on purpose. */
  readonly severity: 'fault' | 'note'
}
