import { rounded } from '../in-words.ts'
import { measuresRule } from './rule.ts'

/** The share is measured below this frequency (second-order Butterworth). */
const MEASURED_BELOW_HZ = 200
/** More than half of a sound's energy out of reach leaves little to hear (common practice, no source). */
const MOST_SHARE = 0.5

/** Judged only where the speaker's low limit is known, and lies above what the share is measured below. */
export const lowShare = measuresRule('low-share', (measures, _sound, { context }) => {
  const limit = context.speakerLowLimitHz
  const share = measures.lowShare
  if (limit === null || limit < MEASURED_BELOW_HZ || share === null || share <= MOST_SHARE) return null
  return {
    message: `${rounded(share * 100, 0)} % of its energy lies below ${MEASURED_BELOW_HZ} Hz; the speaker gives sound from ${limit} Hz.`,
    why: 'Most of it is not heard, and drives a small speaker hard for nothing.',
    mend: 'Prepare can take out what the speaker cannot give. Play it quietly the first time.',
    fixable: true,
    measured: share,
    limit: MOST_SHARE,
  }
})
