import { rounded } from '../in-words.ts'
import { measuresRule } from './rule.ts'

/** One hundredth of full scale is a step that can be heard (common practice, no source). */
const MOST_OFFSET = 0.01

export const dcOffset = measuresRule('dc-offset', (measures) => {
  const offset = measures.dcOffset
  if (offset === null || Math.abs(offset) <= MOST_OFFSET) return null
  return {
    message: `Its middle lies ${rounded(offset * 100, 2)} % of full scale off zero; ${MOST_OFFSET * 100} % can be heard.`,
    why: 'It clicks when it starts and stops, and holds the speaker off its rest.',
    mend: 'Prepare can take the offset out.',
    fixable: true,
    measured: offset,
    limit: MOST_OFFSET,
  }
})
