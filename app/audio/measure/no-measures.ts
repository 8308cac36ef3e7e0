import type { Measures } from '../../model/measures.ts'

const LEVEL_KEYS = [
  'integratedLufs',
  'momentaryMaxLufs',
  'shortTermMaxLufs',
  'rangeLu',
  'truePeakDbtp',
  'samplePeakDbfs',
  'rmsDbfs',
] as const
const OTHER_KEYS = [
  'dcOffset',
  'clippedRuns',
  'onsetMs',
  'leadingSilenceMs',
  'trailingSilenceMs',
  'lowShare',
] as const

/** Measures of a sound that has none, all for one reason. */
export function noMeasures(reason: string): Measures {
  const keys = [...LEVEL_KEYS, ...OTHER_KEYS, 'seam.jumpRatio', 'seam.dipDb']
  return {
    levels: {
      integratedLufs: null,
      momentaryMaxLufs: null,
      shortTermMaxLufs: null,
      rangeLu: null,
      truePeakDbtp: null,
      samplePeakDbfs: null,
      rmsDbfs: null,
    },
    dcOffset: null,
    clippedRuns: null,
    onsetMs: null,
    leadingSilenceMs: null,
    trailingSilenceMs: null,
    lowShare: null,
    seam: { jumpRatio: null, dipDb: null },
    reasons: Object.fromEntries(keys.map((key) => [key, reason])),
  }
}
