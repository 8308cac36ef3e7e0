import { listed } from '../in-words.ts'
import { factsRule } from './rule.ts'

export const container = factsRule('container', (facts, { board }) => {
  const taken = board.audio.containers
  if (taken === null || taken.includes(facts.container)) return null
  return {
    message: `The container is ${facts.container}; the board takes ${listed(taken)}.`,
    why: 'The board looks for another beginning of the file and stays silent.',
    mend: facts.container === 'other' ? 'Export it again as WAV.' : 'Prepare can write it anew.',
    fixable: facts.container !== 'other',
    measured: facts.container,
    limit: listed(taken),
  }
})
