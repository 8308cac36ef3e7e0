import { shown } from '../in-words.ts'
import { licensedParts } from './licensed-parts.ts'
import type { FontRule } from './rule.ts'

export const licenceCredit: FontRule = {
  id: 'licence-credit',
  judge: (look) =>
    licensedParts(look).flatMap(({ path, licences, creatorName }) => {
      const words = licences.flatMap(({ credit }) => (credit === null ? [] : [credit]))[0]
      if (words === undefined) return []
      const named = creatorName !== null
      return [
        {
          path,
          message: `The terms ask for its maker to be named ("${shown(words)}").`,
          why: named
            ? `${look.board.card.creditsName} on the card names ${shown(creatorName)}.`
            : `${look.board.card.creditsName} on the card cannot name a creator that is not known.`,
          mend: named ? 'Nothing to do.' : 'Set the creator of the font.',
          fixable: named,
          measured: null,
          limit: null,
        },
      ]
    }),
}
