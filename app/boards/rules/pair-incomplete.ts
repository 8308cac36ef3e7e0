import { pairsOf } from './pairs.ts'
import type { FontRule, Miss } from './rule.ts'

export const pairIncomplete: FontRule = {
  id: 'pair-incomplete',
  judge: (look) => {
    if (!look.board.fonts.pairsEqualLength || !look.judges('fonts.pairsEqualLength')) return []
    return pairsOf(look).flatMap(({ low, high }): Miss[] => {
      const only = low ?? high
      if (only === null || (low !== null && high !== null)) return []
      const missing = low === null ? 'low' : 'high'
      return [
        {
          path: only.sound.path,
          message: `Its partner, the ${missing} layer, is missing.`,
          why: 'The board mixes two layers into one swing; with one of them it stays silent.',
          mend: `Add the ${missing} layer, or tell that this is a plain swing.`,
          fixable: false,
          measured: only.place.layer,
          limit: 'low and high',
        },
      ]
    })
  },
}
