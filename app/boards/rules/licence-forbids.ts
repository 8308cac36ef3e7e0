import { shown } from '../in-words.ts'
import { licensedParts } from './licensed-parts.ts'
import type { FontRule } from './rule.ts'

/** Every licence on record has words against the use at hand. */
export const licenceForbids: FontRule = {
  id: 'licence-forbids',
  judge: (look) =>
    licensedParts(look).flatMap(({ path, licences }) => {
      const against = licences.flatMap(({ forbids }) => (forbids === null ? [] : [forbids]))
      const [first] = against
      if (first === undefined || against.length < licences.length) return []
      return [
        {
          path,
          message: `The terms on record say "${shown(first)}".`,
          why: 'This use may not be covered by the licence.',
          mend: 'Read the terms, ask the creator, or buy another licence. A record is not legal advice.',
          fixable: false,
          measured: first,
          limit: null,
        },
      ]
    }),
}
