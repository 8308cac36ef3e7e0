import type { Role } from '../../model/role.ts'
import { rounded } from '../in-words.ts'
import { measuresRule } from './rule.ts'

/** What answers a movement must be heard with it: longest wait in ms (common practice, no source). */
const LONGEST_MS: Partial<Record<Role, number>> = {
  clash: 40,
  deflect: 40,
  swing: 100,
  ignite: 150,
  retract: 150,
}

export const slowOnset = measuresRule('slow-onset', (measures, sound) => {
  const { place } = sound
  if (place === null || place.layer !== null || place.part !== 'body') return null
  const most = LONGEST_MS[place.role]
  const onset = measures.onsetMs
  if (most === undefined || onset === null || onset <= most) return null
  return {
    message: `It is first heard after ${rounded(onset)} ms; a ${place.role} should be heard within ${most} ms.`,
    why: 'It lags behind the hand.',
    mend: 'Prepare can trim the silence before it.',
    fixable: true,
    measured: onset,
    limit: most,
  }
})
