import type { FontRule } from './rule.ts'

/** What operating systems leave lying about: it is left out of every card. */
export const litter: FontRule = {
  id: 'litter',
  judge: ({ edition, context }) =>
    edition.litter.map((path) => ({
      path,
      message: 'An operating system left this file; it belongs to no font.',
      why: 'Some boards take it for a sound and stumble.',
      mend: context.inPlace ? 'Delete it from the card.' : 'Nothing to do: it stays off the card.',
      fixable: !context.inPlace,
      measured: null,
      limit: null,
    })),
}
