import type { Role, SoundPlace } from './role.ts'

/** What answers a movement must be heard with it: longest wait in ms (common practice, no source). */
const LONGEST_ONSET_MS: Partial<Record<Role, number>> = {
  clash: 40,
  deflect: 40,
  swing: 100,
  ignite: 150,
  retract: 150,
}

/** Longer silence behind a sound only takes room, in ms (common practice, no source). */
export const LONGEST_TAIL_MS = 500

/** A hole of this depth at the seam of a loop is heard as breathing, in dB (common practice, no source). */
export const DEEPEST_DIP_DB = -9

/** How long a sound of this place may wait before it is heard, in ms; undefined where it may wait. */
export function longestOnsetMs({ role, layer, part }: SoundPlace): number | undefined {
  return layer === null && part === 'body' ? LONGEST_ONSET_MS[role] : undefined
}
