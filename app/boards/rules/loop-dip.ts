import { isLoop } from '../../model/role.ts'
import { rounded } from '../in-words.ts'
import { measuresRule } from './rule.ts'

/** A hole of this depth at the seam is heard as breathing (common practice, no source). */
const DEEPEST_DB = -9

export const loopDip = measuresRule('loop-dip', (measures, sound) => {
  if (sound.place === null || !isLoop(sound.place)) return null
  const dip = measures.seam.dipDb
  if (dip === null || dip >= DEEPEST_DB) return null
  return {
    message: `At its ends it is ${rounded(-dip)} dB softer than inside; ${-DEEPEST_DB} dB goes unheard.`,
    why: 'It fades and swells each time it starts over.',
    mend: 'Prepare can cut the soft ends off and blend the loop.',
    fixable: true,
    measured: dip,
    limit: DEEPEST_DB,
  }
})
