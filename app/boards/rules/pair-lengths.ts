import { rounded } from '../in-words.ts'
import { pairsOf } from './pairs.ts'
import type { FontRule, Miss } from './rule.ts'

export const pairLengths: FontRule = {
  id: 'pair-lengths',
  judge: (look) => {
    if (!look.board.fonts.pairsEqualLength || !look.judges('fonts.pairsEqualLength')) return []
    return pairsOf(look).flatMap(({ low, high }): Miss[] => {
      const lowSeconds = low?.sound.inspection.facts?.seconds ?? null
      const highSeconds = high?.sound.inspection.facts?.seconds ?? null
      if (low === null || high === null || lowSeconds === null || highSeconds === null) return []
      // Different rates round differently: half a sample of the coarser one is no difference.
      const rates = [low, high].map(({ sound }) => sound.inspection.facts?.sampleRateHz ?? 1)
      if (Math.abs(lowSeconds - highSeconds) <= 0.5 / Math.min(...rates)) return []
      return [
        {
          path: high.sound.path,
          message: `It lasts ${rounded(highSeconds, 4)} s and its partner ${low.sound.path} ${rounded(lowSeconds, 4)} s; the two must be equally long.`,
          why: 'The two layers run apart, and the swing loses its shape after a while.',
          mend: 'Prepare can cut both to one length.',
          fixable: true,
          measured: highSeconds,
          limit: lowSeconds,
        },
      ]
    })
  },
}
