import type { Board } from '../../model/board.ts'
import type { Edition } from '../../model/library.ts'
import type { JudgeContext } from './font-look.ts'

/** One font of a card, where it stands. */
export interface FontOnCard {
  readonly edition: Edition
  readonly slot: number
  /** Its folder, below the card's root. */
  readonly folder: string
}

/** All fonts of one card beside one board. */
export interface CardLook {
  readonly board: Board
  /** In play order. */
  readonly fonts: readonly FontOnCard[]
  /** The board's config file as it is to be on the card; null where there is none. */
  readonly config: { readonly fileName: string; readonly text: string } | null
  /** What opening the dearest sound costs, in sectors; absent or null where it is not known. */
  readonly readCost?: { readonly path: string; readonly sectors: number } | null
  readonly context: Pick<
    JudgeContext,
    'levelOf' | 'throughSpeakerLevelOf' | 'speakerLowLimitHz' | 'inPlace' | 'changes'
  >
  /** Folders as the card's directory has them, in its order; only where a card is judged as found. */
  readonly directoryOrder?: readonly string[]
}
