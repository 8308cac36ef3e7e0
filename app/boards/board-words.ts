import type { Board, Knowledge } from '../model/board.ts'
import { canonicalJson } from './canonical-json.ts'
import { LIMITS } from './limits.ts'
import { valueAt } from './read-board.ts'

/** One limit of a board as people read it. */
export interface LimitInWords {
  readonly limit: string
  readonly words: string
  readonly known: Knowledge
}

/** How a limit of a board is known. */
export function knowledgeOf(board: Board, path: string): Knowledge {
  return board.known[path] ?? 'stated'
}

/** What a board accepts: one sentence a limit, in the order of a board file. */
export function boardInWords(board: Board): readonly LimitInWords[] {
  return LIMITS.map((limit) => {
    const known = knowledgeOf(board, limit.path)
    const words = known === 'unknown' && limit.whenUnknown === null ? 'Not known.' : limit.inWords(board)
    return { limit: limit.path, words, known }
  })
}

/** How many limits of a board nobody knows. */
export function unknownLimitCount(board: Board): number {
  return LIMITS.reduce((count, { path }) => count + (knowledgeOf(board, path) === 'unknown' ? 1 : 0), 0)
}

/** One limit in which two boards differ, or are known differently. */
export interface LimitDifference {
  readonly limit: string
  readonly a: LimitInWords
  readonly b: LimitInWords
}

/** The limits in which two boards differ, in the order of a board file. */
export function diffBoards(a: Board, b: Board): readonly LimitDifference[] {
  const wordsOfB = boardInWords(b)
  return boardInWords(a).flatMap((ofA, index) => {
    const ofB = wordsOfB[index]
    if (ofB === undefined) return []
    const same =
      ofA.known === ofB.known &&
      canonicalJson(valueAt(a, ofA.limit) ?? null) === canonicalJson(valueAt(b, ofB.limit) ?? null)
    return same ? [] : [{ limit: ofA.limit, a: ofA, b: ofB }]
  })
}
