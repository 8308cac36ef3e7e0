import type { RuleChange } from './finding.ts'
import type { SingleSound } from './single-sound.ts'

/** Who made a font. */
export interface Creator {
  readonly id: string
  readonly name: string
  readonly contact: string
  readonly note: string
}

export const LICENCE_KINDS = ['bought', 'gift', 'free', 'own', 'commission'] as const
export type LicenceKind = (typeof LICENCE_KINDS)[number]

/** Whether a font's creator allows that its sounds are converted for a board. */
export const CONVERSION_ANSWERS = ['yes', 'no', 'unknown'] as const
export type ConversionAllowed = (typeof CONVERSION_ANSWERS)[number]

/** One grant for a font. A record, not legal advice. */
export interface Licence {
  readonly id: string
  readonly fontId: string
  readonly fontName: string
  /** In whose name it stands. */
  readonly holder: string
  readonly kind: LicenceKind
  /** Day of the grant, `YYYY-MM-DD`; empty where unknown. */
  readonly grantedOn: string
  readonly orderReference: string
  readonly terms: string
  readonly conversionAllowed: ConversionAllowed
  readonly note: string
}

/** One hilt with what belongs to it. `fontEditionIds` are in play order. */
export interface Build {
  readonly id: string
  readonly code: string
  readonly clientLabel: string
  readonly boardId: string
  readonly speaker: string
  /** Lowest frequency the speaker gives, in Hz; null where unknown. */
  readonly speakerLowLimitHz: number | null
  readonly fontEditionIds: readonly string[]
  /** The board's config file as text, with the name it has on the card; null where none is recorded. */
  readonly config: { readonly fileName: string; readonly text: string } | null
  /** Rules that this build switches off or weighs anew; each once, sorted by rule. */
  readonly ruleChanges: readonly RuleChange[]
  /** In the order in which they were told; changed by acts of their own. */
  readonly singleSounds: readonly SingleSound[]
  readonly note: string
}

/** A config as a build had it from a time on; numbered from 1. */
export interface ConfigVersion {
  readonly number: number
  readonly recordedAt: string
  readonly fileName: string
  readonly text: string
}

export type NewCreator = Omit<Creator, 'id'>
export type NewLicence = Omit<Licence, 'id' | 'fontName'>
export type NewBuild = Omit<Build, 'id' | 'singleSounds'>

/** One line of the journal: ids only, so that forgetting a person needs no rewriting here. */
export interface JournalEntry {
  readonly at: string
  readonly who: string
  readonly what: string
  readonly entity: string
  readonly entityId: string
}
