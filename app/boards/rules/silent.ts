import { rounded } from '../in-words.ts'
import { measuresRule } from './rule.ts'

/** Peaks below this are not heard through a small speaker (common practice, no source). */
const SILENT_BELOW_DBFS = -60

export const silent = measuresRule('silent', (measures, sound) => {
  if ((sound.inspection.facts?.frames ?? 0) === 0) return null
  const peak = measures.levels.samplePeakDbfs
  if (peak === null && measures.reasons['samplePeakDbfs'] !== 'silent') return null
  if (peak !== null && peak >= SILENT_BELOW_DBFS) return null
  return {
    message:
      peak === null
        ? 'Every sample is zero: it is silence.'
        : `Its highest sample is ${rounded(peak)} dBFS, and below ${SILENT_BELOW_DBFS} dBFS nothing is heard.`,
    why: 'The board plays it, and nobody hears anything.',
    mend: 'Fetch the file again; if the silence is meant, nothing needs to be done.',
    fixable: false,
    measured: peak,
    limit: SILENT_BELOW_DBFS,
  }
})
