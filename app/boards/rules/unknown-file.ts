import { inBytes } from '../in-words.ts'
import type { FontRule } from './rule.ts'

/** Files beside the sounds that are no text, picture or document. */
export const unknownFile: FontRule = {
  id: 'unknown-file',
  judge: ({ edition, board }) => {
    const comesAlong = board.fonts.companions === 'font-folder'
    return edition.companions
      .filter((companion) => companion.kind === 'other')
      .map((companion) => ({
        path: companion.path,
        message: `It is no sound, text, picture or document (${inBytes(companion.sizeBytes)}).`,
        why: comesAlong ? 'It comes along into the font’s folder and takes room.' : 'It stays off the card.',
        mend: 'Look whether it is needed; the board does not play it.',
        fixable: false,
        measured: companion.sizeBytes,
        limit: null,
      }))
  },
}
