import type { Board } from '../../model/board.ts'
import type { RecipeStep } from '../../model/recipe.ts'
import { MOST_RAISE_DB, type FontGain } from './font-gains.ts'
import { chosenNumber, isDropped, type SoundToPrepare } from './sound-to-prepare.ts'

/** The gain of one sound, and why. */
export type SoundGain = Pick<RecipeStep, 'rule' | 'reason'> & {
  readonly gainDb: number
  /** Where the sound alone is to land; absent where it moves with its font, and where it cannot get there. */
  readonly aimLufs?: number
  /** Why it does not get there, in one sentence. */
  readonly told?: string
}

/** Peaks of what is made come out this far below the ceiling, so that a rule finds nothing. */
const PAIR_MARGIN_DB = 0.1

/**
 * The gain of a sound in dB: music has its own band and is brought to its middle, raised by no more than a
 * font is; everything else moves with its font, so that effects keep their distance to the hum.
 * @param marginLu how far inside its band a piece of music must lie: its level may not come out as told
 */
export function soundGain(
  sound: SoundToPrepare,
  levelLufs: number | null,
  fontGain: FontGain | undefined,
  board: Board,
  marginLu = 0,
): SoundGain | null {
  if (sound.isPrepared || isDropped(sound, 'gain')) return null
  const chosen = chosenNumber(sound, 'gain')
  if (chosen !== undefined) return { gainDb: chosen, rule: 'user', reason: 'You asked for it.' }
  const band = board.levels.music
  if (sound.place.role !== 'music' || band === null) return fontGain ?? null
  if (levelLufs === null) return null
  if (levelLufs >= band.lowestLufs + marginLu && levelLufs <= band.highestLufs - marginLu) return null
  const aimLufs = (band.lowestLufs + band.highestLufs) / 2
  const gainDb = Math.round((aimLufs - levelLufs) * 100) / 100
  const reason = `It has ${levelLufs.toFixed(1)} LUFS; the board's band for music is ${band.lowestLufs} to ${band.highestLufs} LUFS.`
  if (gainDb > MOST_RAISE_DB) {
    const told = `It would need ${gainDb.toFixed(1)} dB more; it is raised by ${MOST_RAISE_DB} dB, since its noise rises with it.`
    return { gainDb: MOST_RAISE_DB, rule: 'level', reason, told }
  }
  return { gainDb, aimLufs, rule: 'level', reason }
}

/**
 * The one gain of two layers that play together: they keep their relative level, so instead of
 * limiting one, both are made softer until both stay below the ceiling.
 * @param peaks true peaks of the two before the gain
 * @param ceiling in dBTP: the board's, or the user's own; null where none is held
 */
export function pairGain(
  gain: SoundGain | null,
  peaks: readonly (number | null)[],
  ceiling: number | null,
): { readonly gain: SoundGain | null; readonly told: string | null } {
  const known = peaks.filter((peak) => peak !== null)
  if (ceiling === null || known.length === 0) return { gain, told: null }
  const room = Math.floor((ceiling - PAIR_MARGIN_DB - Math.max(...known)) * 100) / 100
  const wanted = gain?.gainDb ?? 0
  const isAbove = Math.max(...known) + wanted > ceiling
  if (!isAbove) return { gain, told: null }
  const reason = `The louder layer would peak ${(Math.max(...known) + wanted).toFixed(1)} dBTP; both move together below ${ceiling} dBTP.`
  return {
    gain: { gainDb: room, rule: 'true-peak', reason },
    told:
      gain === null || gain.rule === 'user'
        ? null
        : `Both layers are ${(wanted - room).toFixed(1)} dB softer than the font's gain would have them, to stay below the ceiling together.`,
  }
}
