import { isLoop } from '../../model/role.ts'
import { LONGEST_TAIL_MS } from '../../model/sound-ends.ts'
import { rounded } from '../in-words.ts'
import { measuresRule } from './rule.ts'

export const trailingSilence = measuresRule('trailing-silence', (measures, sound) => {
  if (sound.place !== null && isLoop(sound.place)) return null
  const tail = measures.trailingSilenceMs
  if (tail === null || tail <= LONGEST_TAIL_MS) return null
  return {
    message: `It ends with ${rounded(tail, 0)} ms of silence; ${LONGEST_TAIL_MS} ms are plenty.`,
    why: 'The board stays with the silent sound instead of going back to the hum, and the card is fuller.',
    mend: 'Prepare can trim it.',
    fixable: true,
    measured: tail,
    limit: LONGEST_TAIL_MS,
  }
})
