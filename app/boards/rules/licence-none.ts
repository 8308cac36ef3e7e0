import type { FontRule } from './rule.ts'

export const licenceNone: FontRule = {
  id: 'licence-none',
  judge: ({ context }) =>
    context.licences === null || context.licences.length > 0
      ? []
      : [
          {
            path: null,
            message: 'No licence for this font is on record.',
            why: 'Later nobody can tell whether it was bought, from whom, and for which build.',
            mend: 'Record the licence. A record is not legal advice.',
            fixable: false,
            measured: 0,
            limit: 1,
          },
        ],
}
