import type { LoopFact } from '../model/audio-facts.ts'
import type { Levels } from '../model/measures.ts'
import { isLoop, type SoundPlace } from '../model/role.ts'

/** The two readings that a level is taken from; measured through a speaker they are the same two. */
export type LevelReadings = Pick<Levels, 'integratedLufs' | 'momentaryMaxLufs'>

/**
 * Level of a sound, in LUFS: the integrated loudness of what sounds on (loops and music), the
 * momentary maximum of the rest. A loop too short for an integrated loudness is taken by its
 * momentary one. Null where the sound gives neither.
 */
export function levelOf(place: SoundPlace, levels: LevelReadings): number | null {
  return isLoop(place) || place.role === 'music' ? steadyLevel(levels) : levels.momentaryMaxLufs
}

/** The same where the role is not known: a file that carries loop points is taken as a loop. */
export function levelOfFile(loops: readonly LoopFact[], levels: LevelReadings): number | null {
  return loops.length > 0 ? steadyLevel(levels) : levels.momentaryMaxLufs
}

/** The level of what sounds on. */
export function steadyLevel(levels: LevelReadings): number | null {
  return levels.integratedLufs ?? levels.momentaryMaxLufs
}
