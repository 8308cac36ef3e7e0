import { isLoop } from '../../model/role.ts'
import { placeKey } from '../place-words.ts'
import { rounded } from '../in-words.ts'
import type { PlacedSound } from './font-look.ts'
import { heardAlike } from './heard-level.ts'
import type { FontRule } from './rule.ts'

/** Sounds of one kind that differ by more jump in loudness (common practice, no source). */
const MOST_LU = 6

/** Level spread inside a font: loudest against quietest of the sounds that share role, part and layer. */
export const levelSpread: FontRule = {
  id: 'level-spread',
  judge: ({ placed, context }) => {
    const kinds = new Map<string, PlacedSound[]>()
    for (const each of placed) {
      const key = placeKey(each.place)
      kinds.set(key, [...(kinds.get(key) ?? []), each])
    }
    return [...kinds.values()].flatMap((each) => {
      const { levels, words } = heardAlike(
        each.map(({ sound }) => sound),
        context,
      )
      const kind = each.flatMap((one, index) => {
        const level = levels[index] ?? null
        return level === null ? [] : [{ each: one, level }]
      })
      const sorted = [...kind].sort((a, b) => a.level - b.level)
      const quietest = sorted[0]
      const loudest = sorted.at(-1)
      if (quietest === undefined || loudest === undefined) return []
      const spread = loudest.level - quietest.level
      if (spread <= MOST_LU) return []
      return [
        {
          path: quietest.each.sound.path,
          message: `It is ${rounded(spread)} LU quieter than ${loudest.each.sound.path}${isLoop(loudest.each.place) ? `, ${words}` : ''}; sounds of one kind should stay within ${MOST_LU} LU.`,
          why: `One ${quietest.each.place.role} is much softer than the next, by chance of which one is played.`,
          mend: 'Prepare keeps the sounds of a font at their distances; give this one a gain of its own there.',
          fixable: false,
          measured: spread,
          limit: MOST_LU,
        },
      ]
    })
  },
}
