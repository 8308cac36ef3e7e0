import { longestOnsetMs } from '../../model/sound-ends.ts'
import { rounded } from '../in-words.ts'
import { measuresRule } from './rule.ts'

export const slowOnset = measuresRule('slow-onset', (measures, sound) => {
  const { place } = sound
  if (place === null) return null
  const most = longestOnsetMs(place)
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
