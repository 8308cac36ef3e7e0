import { isLoop } from '../../model/role.ts'
import { DEEPEST_DIP_DB } from '../../model/sound-ends.ts'
import { rounded } from '../in-words.ts'
import { measuresRule } from './rule.ts'

export const loopDip = measuresRule('loop-dip', (measures, sound) => {
  if (sound.place === null || !isLoop(sound.place)) return null
  const dip = measures.seam.dipDb
  if (dip === null || dip >= DEEPEST_DIP_DB) return null
  return {
    message: `At its ends it is ${rounded(-dip)} dB softer than inside; ${-DEEPEST_DIP_DB} dB goes unheard.`,
    why: 'It fades and swells each time it starts over.',
    mend: 'Prepare can cut the soft ends off and blend the loop.',
    fixable: true,
    measured: dip,
    limit: DEEPEST_DIP_DB,
  }
})
