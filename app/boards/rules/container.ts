import { listed } from '../in-words.ts'
import { decodingMend, isDecoded } from './decoded.ts'
import { factsRule } from './rule.ts'

export const container = factsRule('container', (facts, { board }, sound) => {
  const taken = board.audio.containers
  if (taken === null || taken.includes(facts.container)) return null
  return {
    message: `The container is ${facts.container}; the board takes ${listed(taken)}.`,
    why: 'The board looks for another beginning of the file and stays silent.',
    mend: decodingMend(sound, 'Prepare can write it anew as a WAV.'),
    fixable: isDecoded(sound),
    measured: facts.container,
    limit: listed(taken),
  }
})
