import type { SoundPlace } from '../../model/role.ts'
import type { FontRule } from './rule.ts'

/** Roles that a font must have. Sounds that belong to the whole card are not asked of a font. */
export const roleMissing: FontRule = {
  id: 'role-missing',
  judge: ({ board, placed, isRecognised, judges }) => {
    if (!isRecognised || !judges('fonts.rolesRequired')) return []
    const present = new Set(placed.filter(({ place }) => standsFor(place)).map(({ place }) => place.role))
    return board.fonts.rolesRequired
      .filter((role) => !present.has(role) && board.fonts.cardWide?.roles.includes(role) !== true)
      .map((role) => ({
        path: null,
        message: `There is no sound for ${role}; the board needs at least one.`,
        why: 'The board refuses the font, or stays silent where the sound should be.',
        mend: `Add a sound for ${role}, or tell which of the sounds it is.`,
        fixable: false,
        measured: 0,
        limit: 1,
      }))
  },
}

/** What is heard before or after a role does not stand for it; of what sounds on, only the body does. */
function standsFor({ role, part }: SoundPlace): boolean {
  if (role === 'ignite' || role === 'retract') return part !== 'before' && part !== 'after'
  return part === 'body'
}
