import { fitCase } from '../folder-name.ts'
import { shown } from '../in-words.ts'
import { nameRule, renameMend } from './names-of.ts'

export const nameCase = nameRule('name-case', (name, look) => {
  const { letterCase } = look.board.names
  if (!look.judges('names.letterCase') || fitCase(look.board, name) === name) return null
  return {
    message: `"${shown(name)}" has letters of the other case; the board takes ${letterCase === 'lower' ? 'small' : 'capital'} letters only.`,
    why: 'The board does not find the file.',
    ...renameMend(look),
    measured: name,
    limit: letterCase,
  }
})
