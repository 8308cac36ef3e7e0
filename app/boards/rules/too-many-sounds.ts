import type { Role } from '../../model/role.ts'
import type { PlacedSound } from './font-look.ts'
import type { FontRule, Miss } from './rule.ts'
import { mostInWords } from './most-seen.ts'

/** More sounds of a role than the board takes; a pair of layers counts once, parts count by themselves. */
export const tooManySounds: FontRule = {
  id: 'too-many-sounds',
  judge: ({ board, placed, judges }) => {
    if (!judges('fonts.mostSoundsByRole')) return []
    return Object.entries(board.fonts.mostSoundsByRole).flatMap(([role, most]): Miss[] => {
      const count = countOf(placed, role as Role)
      if (count <= most) return []
      return [
        {
          path: null,
          message: `There are ${count} sounds for ${role}; ${mostInWords(board, 'fonts.mostSoundsByRole', `the board takes at most ${most}`, `${most}`)}.`,
          why: 'The board refuses the font, or never plays the last ones.',
          mend: `Leave ${count - most} of them out.`,
          fixable: false,
          measured: count,
          limit: most,
          mostOf: 'fonts.mostSoundsByRole',
        },
      ]
    })
  },
}

function countOf(placed: readonly PlacedSound[], role: Role): number {
  const counts = new Map<string, number>()
  for (const { place } of placed) {
    if (place.role !== role) continue
    const key = `${place.part}|${place.layer ?? ''}`
    counts.set(key, (counts.get(key) ?? 0) + 1)
  }
  const parts = [...new Set([...counts.keys()].map((key) => key.split('|')[0]))]
  const perPart = parts.map((part) => {
    const of = (layer: string): number => counts.get(`${part}|${layer}`) ?? 0
    return of('') + Math.max(of('low'), of('high'))
  })
  return Math.max(0, ...perPart)
}
