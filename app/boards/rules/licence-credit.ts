import { shown } from '../in-words.ts'
import type { FontRule } from './rule.ts'

export const licenceCredit: FontRule = {
  id: 'licence-credit',
  judge: ({ context, board, edition }) => {
    const words = context.licences?.flatMap(({ credit }) => (credit === null ? [] : [credit]))[0]
    if (words === undefined) return []
    const named = edition.font.creatorName !== null
    return [
      {
        path: null,
        message: `The terms ask for its maker to be named ("${shown(words)}").`,
        why: named
          ? `${board.card.creditsName} on the card names ${shown(edition.font.creatorName ?? '')}.`
          : `${board.card.creditsName} on the card cannot name a creator that is not known.`,
        mend: named ? 'Nothing to do.' : 'Set the creator of the font.',
        fixable: named,
        measured: null,
        limit: null,
      },
    ]
  },
}
