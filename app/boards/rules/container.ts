import { listed } from '../in-words.ts'
import { decodingMend, isDecoded } from './decoded.ts'
import { factsRule } from './rule.ts'

export const container = factsRule('container', (facts, { board }, sound) => {
  const taken = board.audio.containers
  if (taken === null) return null
  const tag = facts.defects.find(({ code }) => code === 'tag-before-header')
  if (tag !== undefined) {
    return {
      message: tag.message,
      why: 'The board looks for another beginning of the file and stays silent.',
      mend: 'Prepare can write it anew without the tag.',
      fixable: (facts.frames ?? 0) > 0,
      measured: 'ID3',
      limit: listed(taken),
    }
  }
  if (taken.includes(facts.container)) return null
  return {
    message: `The container is ${facts.container}; the board takes ${listed(taken)}.`,
    why: 'The board looks for another beginning of the file and stays silent.',
    mend: decodingMend(sound, 'Prepare can write it anew as a WAV.'),
    fixable: isDecoded(sound),
    measured: facts.container,
    limit: listed(taken),
  }
})
