import type { CardRule } from './rule.ts'
import { mostInWords } from './most-seen.ts'

export const tooManyFonts: CardRule = {
  id: 'too-many-fonts',
  judge: ({ board, fonts }) => {
    const most = board.fonts.mostFonts
    if (most === null || fonts.length <= most) return []
    return [
      {
        path: null,
        message: `The card has ${fonts.length} fonts; ${mostInWords(board, 'fonts.mostFonts', `the board takes at most ${most}`, `${most}`)}.`,
        why: 'The board does not reach the last ones, or refuses the card.',
        mend: `Leave ${fonts.length - most} of them out.`,
        fixable: false,
        measured: fonts.length,
        limit: most,
        mostOf: 'fonts.mostFonts',
      },
    ]
  },
}
