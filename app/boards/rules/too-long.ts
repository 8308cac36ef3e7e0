import { rounded } from '../in-words.ts'
import { factsRule } from './rule.ts'
import { mostInWords } from './most-seen.ts'

export const tooLong = factsRule('too-long', (facts, { board }) => {
  const most = board.audio.longestSeconds
  if (most === null || facts.seconds === null || facts.seconds <= most) return null
  return {
    message: `It lasts ${rounded(facts.seconds, 2)} s; ${mostInWords(board, 'audio.longestSeconds', `the board plays at most ${most} s`, `${most} s`)}.`,
    why: 'The board cuts it off or refuses it.',
    mend: 'Shorten it in an editor, or leave it out.',
    fixable: false,
    measured: facts.seconds,
    limit: most,
    mostOf: 'audio.longestSeconds',
  }
})
