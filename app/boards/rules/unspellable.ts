import { placeInWords } from '../place-words.ts'
import type { FontRule, Miss } from './rule.ts'

export const unspellable: FontRule = {
  id: 'unspellable',
  judge: ({ names, context }) =>
    context.inPlace
      ? []
      : names.flatMap(({ from, noName, place }): Miss[] => {
          if (place === null || (noName !== 'unspellable' && noName !== 'conflict')) return []
          const role = placeInWords(place)
          return [
            {
              path: from,
              message:
                noName === 'conflict'
                  ? `Another sound takes its name on the card: both are ${role}.`
                  : `The board's scheme ${context.scheme?.id ?? ''} has no name for ${role}.`,
              why: 'The card cannot hold it under a name that the board knows.',
              mend: 'Give the sound another role or number, or leave it out.',
              fixable: false,
              measured: role,
              limit: context.scheme?.id ?? null,
            },
          ]
        }),
}
