import type { Edition } from '../../model/library.ts'
import type { Sound } from '../../model/sound.ts'
import { rounded, shown } from '../in-words.ts'
import { heardAlike } from './heard-level.ts'
import type { CardRule } from './rule.ts'

/** Evenness of a card: loudest against quietest hum, as heard through the speaker where that is known. */
export const cardLevelSpread: CardRule = {
  id: 'card-level-spread',
  judge: (look) => {
    const most = look.board.levels.spreadLu
    if (most === null) return []
    const sounds = look.fonts.flatMap(({ edition }, font) =>
      humsOf(edition).map((sound) => ({ font, sound })),
    )
    const { levels, words } = heardAlike(
      sounds.map(({ sound }) => sound),
      look.context,
    )
    const hums = look.fonts
      .flatMap(({ edition }, font) => {
        const own = levels.filter((level, index) => level !== null && sounds[index]?.font === font)
        return own.length === 0 ? [] : [{ name: edition.font.name, level: Math.max(...own.map(Number)) }]
      })
      .sort((a, b) => a.level - b.level)
    const quietest = hums[0]
    const loudest = hums.at(-1)
    if (quietest === undefined || loudest === undefined) return []
    const spread = loudest.level - quietest.level
    if (spread <= most) return []
    return [
      {
        path: null,
        message: `The hum of ${shown(quietest.name)} is ${rounded(spread)} LU quieter than that of ${shown(loudest.name)} (${rounded(quietest.level)} and ${rounded(loudest.level)} LUFS, ${words}); the board allows ${most} LU.`,
        why: 'One font is louder than the next when the user switches.',
        mend: 'Prepare can even the fonts of the card out.',
        fixable: true,
        measured: spread,
        limit: most,
      },
    ]
  },
}

function humsOf({ sounds }: Edition): readonly Sound[] {
  return sounds.filter(({ place }) => place?.role === 'hum' && place.part === 'body')
}
