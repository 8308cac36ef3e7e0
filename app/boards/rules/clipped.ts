import { oneOrMore } from '../in-words.ts'
import { measuresRule } from './rule.ts'

export const clipped = measuresRule('clipped', (measures) => {
  const runs = measures.clippedRuns
  if (runs === null || runs === 0) return null
  return {
    message: `It is clipped at ${oneOrMore(runs, 'place')}: three or more samples in a row at full scale.`,
    why: 'It crackles, on every speaker and at every volume.',
    mend: 'Ask its maker for a version that is not clipped: what is cut away cannot be brought back.',
    fixable: false,
    measured: runs,
    limit: 0,
  }
})
