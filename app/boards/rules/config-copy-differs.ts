import { folderKey, foldersNamed } from './config-folders.ts'
import type { CardRule } from './rule.ts'

/** A config that is a copy only: what it names differs from what the card has. */
export const configCopyDiffers: CardRule = {
  id: 'config-copy-differs',
  judge: (look) => {
    const named = foldersNamed(look)
    if (look.board.config?.use !== 'copy-only' || named === null || named.length === 0) return []
    const planned = look.fonts.map((font) => folderKey(font.folder))
    const inConfig = named.map(folderKey)
    if (planned.length === inConfig.length && planned.every((key, index) => key === inConfig[index]))
      return []
    return [
      {
        path: look.config?.fileName ?? null,
        message: `The copy of the config names ${named.length} fonts, and not the ${planned.length} of the card in their order.`,
        why: 'The board keeps its settings inside: the copy changes nothing, and may mislead who reads it.',
        mend: 'Set the board, and record its config anew.',
        fixable: false,
        measured: named.length,
        limit: planned.length,
      },
    ]
  },
}
