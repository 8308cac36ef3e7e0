import { folderNameOf } from '../folder-name.ts'
import { pathsOf, renameMend } from './names-of.ts'
import type { FontRule, Miss } from './rule.ts'
import { mostInWords } from './most-seen.ts'

/** Length of the whole path below the card's root, as the file is named now. */
export const pathLength: FontRule = {
  id: 'path-length',
  judge: (look) => {
    const { board, context, edition } = look
    const most = board.names.longestPathUnits
    if (most === null) return []
    const slot = context.slot ?? board.fonts.firstSlot
    const folder = context.folder ?? folderNameOf(board, slot, edition.font.name)
    return pathsOf(look).flatMap((path): Miss[] => {
      const length = folder.length + 1 + path.length
      if (length <= most) return []
      return [
        {
          path,
          message: `With its folder the path has ${length} characters; ${mostInWords(board, 'names.longestPathUnits', `the board takes at most ${most}`, `${most}`)}.`,
          why: 'The board does not find the file.',
          ...renameMend(look),
          measured: length,
          limit: most,
          mostOf: 'names.longestPathUnits',
        },
      ]
    })
  },
}
