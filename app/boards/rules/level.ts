import type { Board, LevelBand } from '../../model/board.ts'
import type { SoundPlace } from '../../model/role.ts'
import { rounded } from '../in-words.ts'
import { heardLevel } from './heard-level.ts'
import { soundRule } from './rule.ts'

/**
 * Level of each sound against the board's band for its role: hums, music, and everything else. Loops are
 * judged as heard through the speaker, where that is known.
 */
export const level = soundRule('level', (sound, look) => {
  if (sound.place === null) return null
  const { group, band } = bandOf(look.board, sound.place)
  const { level: measured, words } = heardLevel(sound, look.context)
  if (band === null || measured === null) return null
  if (measured >= band.lowestLufs && measured <= band.highestLufs) return null
  const quiet = measured < band.lowestLufs
  const off = quiet ? band.lowestLufs - measured : measured - band.highestLufs
  // A miss that a tenth does not show is told to the thousandth: "0 LU too loud" says nothing.
  const decimals = off < 0.05 ? 3 : 1
  return {
    message: `Its level is ${rounded(measured, decimals)} LUFS${words === null ? '' : ` ${words}`}, ${rounded(off, decimals)} LU too ${quiet ? 'quiet' : 'loud'}; the board's band for ${group} is ${band.lowestLufs} to ${band.highestLufs} LUFS.`,
    why: quiet
      ? 'It is drowned by the other sounds of the build.'
      : 'It jumps out among the other sounds of the build.',
    mend: mendOf(group, quiet ? 'raise' : 'lower'),
    fixable: true,
    measured,
    limit: `${band.lowestLufs} to ${band.highestLufs}`,
  }
})

/** A font has one gain, from its hums: that of an effect against them is its maker's choice. */
function mendOf(group: ReturnType<typeof bandOf>['group'], verb: 'raise' | 'lower'): string {
  if (group === 'hums') return `Prepare can ${verb} the whole font.`
  if (group === 'music') return `Prepare can ${verb} it by itself.`
  return 'Prepare moves a font as a whole, by its hum; where that is not enough, give this sound a gain of its own there.'
}

function bandOf(
  board: Board,
  place: SoundPlace,
): { group: 'hums' | 'music' | 'effects'; band: LevelBand | null } {
  if (place.role === 'hum') return { group: 'hums', band: board.levels.hum }
  if (place.role === 'music') return { group: 'music', band: board.levels.music }
  return { group: 'effects', band: board.levels.effects }
}
