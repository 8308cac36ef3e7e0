import { listed } from '../in-words.ts'
import type { CardRule } from './rule.ts'

/** Whether the board will count the fonts in the order that is meant, and on a card as found in the order their names show. */
export const folderOrder: CardRule = {
  id: 'folder-order',
  judge: ({ board, fonts, directoryOrder, context }) => {
    if (board.known['fonts.order'] === 'unknown') return []
    const meant = fonts.map((font) => font.folder)
    const counted =
      board.fonts.order === 'name'
        ? [...meant].sort(byName)
        : context.inPlace
          ? (directoryOrder ?? meant)
          : meant
    const expected = context.inPlace ? [...meant].sort(byName) : meant
    if (counted.every((folder, index) => folder === expected[index])) return []
    return [
      {
        path: null,
        message: `The board counts fonts by ${board.fonts.order === 'name' ? 'name' : 'directory entry'}: ${listed(counted.slice(0, 12), 'and')}, and not ${listed(expected.slice(0, 12), 'and')}.`,
        why: 'Fonts play in another order than meant.',
        mend: context.inPlace
          ? 'Make the card anew: its folders are then written in play order.'
          : 'Put {slot} into the board’s folder template, or give the fonts names that sort as they should play.',
        fixable: false,
        measured: counted[0] ?? null,
        limit: expected[0] ?? null,
      },
    ]
  },
}

function byName(a: string, b: string): number {
  const [left, right] = [a.toUpperCase(), b.toUpperCase()]
  return left < right ? -1 : left > right ? 1 : 0
}
