import type { Coding, Container } from './audio-facts.ts'
import type { Weight } from './finding.ts'
import type { Role } from './role.ts'

/** How a limit of a board is known. An `unknown` one judges nothing. */
export const KNOWLEDGE = ['stated', 'seen playing', 'seen failing', 'unknown'] as const
export type Knowledge = (typeof KNOWLEDGE)[number]

/** Limits on sounds; null sets none, or is not known (see `Board.known`). */
export interface BoardAudio {
  readonly containers: readonly Container[] | null
  readonly codings: readonly Coding[] | null
  readonly sampleRatesHz: readonly number[] | null
  readonly bitDepths: readonly number[] | null
  readonly channels: readonly number[] | null
  /** `plain`: `fmt ` and `data` only. */
  readonly header: 'plain' | 'any' | null
  readonly longestSeconds: number | null
  readonly largestBytes: number | null
  /** Whether all sounds of one font must share their sample rate. */
  readonly oneRateInFont: boolean | null
}

export interface BoardFonts {
  readonly mostFonts: number | null
  /** Template of a font's folder, such as `{slot:02}-{name}`. */
  readonly folderTemplate: string
  readonly firstSlot: number
  /** Whether the board counts fonts by name or by directory entry. */
  readonly order: 'name' | 'entry'
  readonly rolesRequired: readonly Role[]
  readonly mostSoundsByRole: Readonly<Partial<Record<Role, number>>>
  readonly numbering: { readonly start: number; readonly withoutGaps: boolean } | null
  /** Whether the two layers of a swing must be equally long. */
  readonly pairsEqualLength: boolean
  readonly companions: 'font-folder' | 'none'
  /** Sounds of these roles belong to the card, not to a font, and lie in this folder (`''` is the root). */
  readonly cardWide: { readonly roles: readonly Role[]; readonly folder: string } | null
}

export interface BoardNames {
  /** Id of the naming scheme that the board plays by. */
  readonly scheme: string
  /** A regular expression that every single character of a name must match. */
  readonly charset: string
  readonly letterCase: 'lower' | 'upper' | 'any'
  readonly longestNameUnits: number | null
  readonly longestPathUnits: number | null
  readonly reserved: readonly string[]
}

export interface BoardCard {
  readonly fileSystems: readonly ('fat16' | 'fat32')[]
  readonly largestCardBytes: number | null
  readonly clusterBytes: number
  readonly partitionTable: 'mbr'
  readonly alignmentBytes: number
  readonly creditsName: string
  readonly licencesName: string
  /** Whether the board tolerates the two documents and other extra files in the root. */
  readonly extraFilesInRoot: boolean
  readonly mostSectorsToOpen: number | null
}

export interface BoardConfig {
  readonly file: string
  readonly required: boolean
  /** `copy-only`: the board keeps its settings inside, the card's file changes nothing. */
  readonly use: 'read-from-card' | 'copy-only'
  /** A regular expression whose first group is the name of a font folder; null where it names none. */
  readonly fontPattern: string | null
}

/** A band of level; both ends belong to it. */
export interface LevelBand {
  readonly lowestLufs: number
  readonly highestLufs: number
}

export interface BoardLevels {
  readonly hum: LevelBand | null
  readonly effects: LevelBand | null
  readonly music: LevelBand | null
  readonly ceilingDbtp: number | null
  /** Most that a limiter may take away from a sound while it is prepared, in dB. */
  readonly mostLimitingDb: number | null
  /** Largest difference between the hums of one card. */
  readonly spreadLu: number | null
}

/** What one sound board accepts: a board file, read and checked. */
export interface Board {
  readonly id: string
  readonly title: string
  readonly notes: string
  /** SHA-256 of the board's canonical form: two texts that mean the same have the same. */
  readonly hash: string
  readonly audio: BoardAudio
  readonly fonts: BoardFonts
  readonly names: BoardNames
  readonly card: BoardCard
  readonly config: BoardConfig | null
  readonly levels: BoardLevels
  /**
   * Path of a limit (`audio.sampleRatesHz`) to how it is known; a limit that is not here is `stated`.
   * An `unknown` limit that the plan cannot do without has a usual value, which no rule judges by.
   */
  readonly known: Readonly<Record<string, Knowledge>>
  /** Rules switched off or changed in severity, each with its reason. */
  readonly rules: Readonly<Record<string, { readonly severity: Weight; readonly reason: string }>>
}
