import type { Board } from '../../model/board.ts'

/** Whether a most is merely the most that was seen playing: that the board takes no more, nobody has seen. */
export function isOnlySeen(board: Board, limit: string | undefined): boolean {
  return limit !== undefined && board.known[limit] === 'seen playing'
}

/** A most as a finding tells it: what the board takes, or no more than what was seen. */
export function mostInWords(board: Board, limit: string, taken: string, most: string): string {
  return isOnlySeen(board, limit) ? `the most that was seen playing is ${most}` : taken
}
