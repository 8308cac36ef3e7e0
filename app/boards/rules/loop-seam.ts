import { isLoop } from '../../model/role.ts'
import { rounded } from '../in-words.ts'
import { measuresRule } from './rule.ts'

/** Half as large again as the largest usual step from sample to sample; below, a seam is lost in the sound. */
const MOST_JUMP = 1.5

export const loopSeam = measuresRule('loop-seam', (measures, sound) => {
  if (sound.place === null || !isLoop(sound.place)) return null
  const jump = measures.seam.jumpRatio
  if (jump === null || jump <= MOST_JUMP) return null
  return {
    message: `From its end to its beginning it jumps ${rounded(jump)} times as far as between its other samples; ${MOST_JUMP} times goes unheard.`,
    why: 'It clicks each time it starts over.',
    mend: 'Prepare can move the loop to a place where the ends meet, and blend them.',
    fixable: true,
    measured: jump,
    limit: MOST_JUMP,
  }
})
