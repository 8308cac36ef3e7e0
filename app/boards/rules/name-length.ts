import { shown } from '../in-words.ts'
import { nameRule, renameMend } from './names-of.ts'
import { mostInWords } from './most-seen.ts'

/** Lengths are counted in UTF-16 units, as a FAT directory counts them. */
export const nameLength = nameRule('name-length', (name, look) => {
  const most = look.board.names.longestNameUnits
  if (most === null || name.length <= most) return null
  return {
    message: `"${shown(name)}" has ${name.length} characters; ${mostInWords(look.board, 'names.longestNameUnits', `the board takes at most ${most}`, `${most}`)}.`,
    why: 'The board cuts the name and does not find the file.',
    ...renameMend(look),
    measured: name.length,
    limit: most,
    mostOf: 'names.longestNameUnits',
  }
})
