import type { Board } from '../../model/board.ts'
import type { RuleChange } from '../../model/finding.ts'
import type { Edition } from '../../model/library.ts'
import type { SoundPlace } from '../../model/role.ts'
import type { Sound } from '../../model/sound.ts'
import { cardNames, cardPath } from '../card-names.ts'
import type { CardName } from '../card-names.ts'
import { folderNameOf } from '../folder-name.ts'
import type { Scheme } from '../scheme.ts'
import type { LicenceStanding } from './licence-standing.ts'

/** What judging needs to know besides the font and the board. */
export interface JudgeContext {
  /** The board's naming scheme; null where there is none of that id. */
  readonly scheme: Scheme | null
  /** Level of a sound in LUFS: integrated for loops and music, momentary maximum for the rest; null where it has none. */
  readonly levelOf: (sound: Sound) => number | null
  /** The same as heard through the speaker; absent or null where it was not measured. */
  readonly throughSpeakerLevelOf?: (sound: Sound) => number | null
  /** Lowest frequency the speaker gives, in Hz; null where nobody knows. */
  readonly speakerLowLimitHz: number | null
  /** Licences on record for the font; null where they are not to be judged. */
  readonly licences: readonly LicenceStanding[] | null
  /** Licences of other fonts whose sounds a build plays in this one; absent where there are none. */
  readonly lenders?: readonly { readonly fontId: string; readonly licences: readonly LicenceStanding[] }[]
  /** Whether the font is judged as it lies on a card, where the plan renames nothing any more. */
  readonly inPlace: boolean
  /** The font's number on the card, where it has one already. */
  readonly slot?: number
  /** The font's folder below the card's root, where it is judged in place. */
  readonly folder?: string
  /** Rules that the build changes, over those of the board. */
  readonly changes?: readonly RuleChange[]
}

/** A sound whose role is known. */
export interface PlacedSound {
  readonly sound: Sound
  readonly place: SoundPlace
}

/** One font beside one board, prepared for the rules: what several of them ask is worked out once. */
export interface FontLook {
  readonly edition: Edition
  readonly board: Board
  readonly context: JudgeContext
  readonly placed: readonly PlacedSound[]
  /** Whether any role is known. */
  readonly isRecognised: boolean
  /** Names that the plan would write; empty where the board's scheme is missing. */
  readonly names: readonly CardName[]
  /** Path on the card to each file that gets one, by its path in the edition. */
  readonly cardPathOf: ReadonlyMap<string, string>
  /** Whether a limit of the board is known, and so may judge. */
  judges(limit: string): boolean
}

export function lookAtFont(edition: Edition, board: Board, context: JudgeContext): FontLook {
  const placed = edition.sounds.flatMap((sound) =>
    sound.place === null ? [] : [{ sound, place: sound.place }],
  )
  const companions = edition.companions.map((companion) => companion.path)
  const names = context.scheme === null ? [] : cardNames(edition.sounds, companions, board, context.scheme)
  const folder = folderNameOf(board, context.slot ?? board.fonts.firstSlot, edition.font.name)
  const cardPathOf = new Map<string, string>()
  for (const name of names) {
    const path = cardPath(board, folder, name)
    if (path !== null) cardPathOf.set(name.from, path)
  }
  return {
    edition,
    board,
    context,
    placed,
    isRecognised: placed.length > 0,
    names,
    cardPathOf,
    judges: (limit) => board.known[limit] !== 'unknown',
  }
}
