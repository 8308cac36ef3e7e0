import { ROLES, type Role, type SoundPlace } from '../../../app/model/role.ts'
import type { GuessedSound } from '../../hooks/use-font-roles.ts'

/** What is known or guessed of a sound's place, for a change to begin with. */
export function likelyPlace({ place, guess }: GuessedSound): SoundPlace | null {
  return place ?? guess?.place ?? null
}

/** The next role of a letter, in play order, going round: `d` tells deflect, then drag, then deflect. */
export function roleByLetter(letter: string, current: Role | null): Role | null {
  const roles = ROLES.filter((role) => role.startsWith(letter.toLowerCase()))
  const at = current === null ? -1 : roles.indexOf(current)
  return roles[(at + 1) % roles.length] ?? null
}

/** A place with another role: its number and part stay, a layer only where the role has layers. */
export function withRole(place: SoundPlace | null, role: Role): SoundPlace {
  return {
    role,
    part: place?.part ?? 'body',
    layer: role === 'swing' ? (place?.layer ?? null) : null,
    number: place?.number ?? null,
  }
}

/** Index of the next sound after one that waits for an answer, going round; the sound after it where none does. */
export function nextWaiting(sounds: readonly GuessedSound[], from: number): number {
  for (let step = 1; step < sounds.length; step++) {
    const index = (from + step) % sounds.length
    if (sounds[index]?.guess !== null) return index
  }
  return Math.min(from + 1, sounds.length - 1)
}
