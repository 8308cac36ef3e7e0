import type { AudioFacts } from '../../model/audio-facts.ts'
import { listed } from '../in-words.ts'
import { decodingMend, isDecoded } from './decoded.ts'
import { factsRule } from './rule.ts'

export const coding = factsRule('coding', (facts, { board }, sound) => {
  const taken = board.audio.codings
  if (taken === null || taken.includes(facts.coding)) return null
  const name = codingName(facts)
  return {
    message: `The coding is ${name}; the board takes ${listed(taken)}.`,
    why: 'The board takes the bytes for something else and plays noise, or nothing.',
    mend: decodingMend(sound, 'Prepare can decode it to PCM.'),
    fixable: isDecoded(sound),
    measured: name,
    limit: listed(taken),
  }
})

function codingName(facts: AudioFacts): string {
  if (facts.coding !== 'other' || facts.formatTag === null) return facts.coding
  return `unknown (format tag 0x${facts.formatTag.toString(16).padStart(4, '0')})`
}
