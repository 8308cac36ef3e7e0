import { shown } from '../in-words.ts'
import type { FontRule, Miss } from './rule.ts'

/** The same samples twice in one font, in whatever wrapper. */
export const duplicate: FontRule = {
  id: 'duplicate',
  judge: ({ edition }) => {
    const first = new Map<string, string>()
    return edition.sounds.flatMap(({ path, inspection }): Miss[] => {
      const key = inspection.sampleHash
      if (key === null || (inspection.facts?.frames ?? 0) === 0) return []
      const other = first.get(key)
      if (other === undefined) {
        first.set(key, path)
        return []
      }
      return [
        {
          path,
          message: `It is the same sound as ${shown(other)}.`,
          why: 'It takes room twice, and is heard twice as often.',
          mend: 'If that is not meant, leave one of them out.',
          fixable: false,
          measured: other,
          limit: null,
        },
      ]
    })
  },
}
