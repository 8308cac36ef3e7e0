import { shown } from '../in-words.ts'
import { readName } from '../scheme.ts'
import type { FontRule, Miss } from './rule.ts'

/** Names that the board's own scheme would not spell so: a file each on a card, in one note for a font of the library. */
export const schemeName: FontRule = {
  id: 'scheme-name',
  judge: ({ context, placed, cardPathOf, edition, board }) => {
    const { scheme } = context
    if (scheme === null) return []
    if (context.inPlace) {
      return edition.sounds.flatMap(({ path }): Miss[] => {
        if (readName(scheme, path) !== null) return []
        return [
          {
            path,
            message: `"${shown(path)}" is no name of the board's scheme ${scheme.id}.`,
            why: 'The board does not know what the sound is for, and never plays it.',
            mend: 'Rename it, or make the card anew.',
            fixable: false,
            measured: path,
            limit: scheme.id,
          },
        ]
      })
    }
    const renamed = placed.filter(({ sound }) => {
      const path = cardPathOf.get(sound.path)
      return path !== undefined && !path.endsWith(`/${sound.path}`) && path !== sound.path
    })
    const [first] = renamed
    if (first === undefined) return []
    const example = cardPathOf.get(first.sound.path)?.split('/').slice(1).join('/') ?? ''
    return [
      {
        path: null,
        message: `${renamed.length} of ${placed.length} sounds get another name on the card, such as ${shown(first.sound.path)} → ${example}.`,
        why: `${board.title} finds sounds by names of the scheme ${scheme.id}.`,
        mend: 'Nothing to do: the card gets names that fit. Translate shows all of them.',
        fixable: true,
        measured: renamed.length,
        limit: scheme.id,
      },
    ]
  },
}
