import { shown } from '../in-words.ts'
import { licensedParts } from './licensed-parts.ts'
import type { FontRule } from './rule.ts'

export const licenceNone: FontRule = {
  id: 'licence-none',
  judge: (look) =>
    licensedParts(look)
      .filter(({ licences }) => licences.length === 0)
      .map(({ path, fontName }) => ({
        path,
        message:
          path === null
            ? 'No licence for this font is on record.'
            : `No licence for "${shown(fontName)}", which lends this sound, is on record.`,
        why: 'Later nobody can tell whether it was bought, from whom, and for which build.',
        mend: 'Record the licence. A record is not legal advice.',
        fixable: false,
        measured: 0,
        limit: 1,
      })),
}
