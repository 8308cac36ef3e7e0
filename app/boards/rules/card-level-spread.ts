import { rounded, shown } from '../in-words.ts'
import type { CardLook } from './card-look.ts'
import type { CardRule } from './rule.ts'

/** Evenness of a card: loudest against quietest hum, as heard through the speaker where that is known. */
export const cardLevelSpread: CardRule = {
  id: 'card-level-spread',
  judge: (look) => {
    const most = look.board.levels.spreadLu
    if (most === null) return []
    const hums = look.fonts
      .flatMap((font) => {
        const level = humLevel(font.edition, look)
        return level === null ? [] : [{ name: font.edition.font.name, level }]
      })
      .sort((a, b) => a.level - b.level)
    const quietest = hums[0]
    const loudest = hums.at(-1)
    if (quietest === undefined || loudest === undefined) return []
    const spread = loudest.level - quietest.level
    if (spread <= most) return []
    const speaker = look.context.speakerLowLimitHz
    const heard =
      speaker === null || look.context.throughSpeakerLevelOf === undefined
        ? 'measured without a speaker'
        : `as heard through a speaker from ${speaker} Hz`
    return [
      {
        path: null,
        message: `The hum of ${shown(quietest.name)} is ${rounded(spread)} LU quieter than that of ${shown(loudest.name)} (${rounded(quietest.level)} and ${rounded(loudest.level)} LUFS, ${heard}); the board allows ${most} LU.`,
        why: 'One font is louder than the next when the user switches.',
        mend: 'Prepare can even the fonts of the card out.',
        fixable: true,
        measured: spread,
        limit: most,
      },
    ]
  },
}

function humLevel(edition: CardLook['fonts'][number]['edition'], { context }: CardLook): number | null {
  const levels = edition.sounds
    .filter((sound) => sound.place?.role === 'hum' && sound.place.part === 'body')
    .map((sound) => context.throughSpeakerLevelOf?.(sound) ?? context.levelOf(sound))
    .filter((level) => level !== null)
  return levels.length === 0 ? null : Math.max(...levels)
}
