import type { CardLook } from '../boards/rules/card-look.ts'
import type { Scheme } from '../boards/scheme.ts'
import { sizeOfCard } from '../cards/card-size.ts'
import { AppError } from '../errors/app-error.ts'
import type { Board } from '../model/board.ts'
import type { Edition } from '../model/library.ts'
import type { CardFile } from '../model/plan.ts'
import { cardContentsOf } from './card-files.ts'

type Cost = NonNullable<CardLook['readCost']> | null

/**
 * What opening a sound costs on a card of these fonts: the dearer of the first and the last in the
 * folder with the longest directory. Documents and config stand behind the fonts, and cost no look-up.
 *
 * @returns null where the board sets no limit, or the card cannot be laid out: other rules tell why
 */
export function readCostOfFonts(board: Board, scheme: Scheme, editions: readonly Edition[]): Cost {
  if (board.card.mostSectorsToOpen === null) return null
  return readCostOfFiles(
    cardContentsOf({ board, boardText: '', scheme, build: null, editions }, noConfigToHash).files,
    board,
  )
}

/** The same for files as they lie on a card, in the order of its directories. */
export function readCostOfFiles(files: readonly CardFile[], board: Board): Cost {
  if (board.card.mostSectorsToOpen === null) return null
  try {
    const { readCost } = sizeOfCard({ files, board: board.card, imageBytes: null })
    if (readCost === null) return null
    const { first, last } = readCost
    return first.sectors > last.sectors ? first : last
  } catch (error) {
    if (error instanceof AppError) return null
    throw error
  }
}

function noConfigToHash(): never {
  throw new RangeError('without a build there is no config')
}
