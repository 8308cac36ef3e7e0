import { shown } from '../in-words.ts'
import { folderKey, foldersNamed } from './config-folders.ts'
import type { CardRule } from './rule.ts'

export const configFolderUnnamed: CardRule = {
  id: 'config-folder-unnamed',
  judge: (look) => {
    const named = foldersNamed(look)
    if (look.board.config?.use !== 'read-from-card' || named === null) return []
    const keys = new Set(named.map(folderKey))
    return look.fonts
      .filter((font) => !keys.has(folderKey(font.folder)))
      .map((font) => ({
        path: look.config?.fileName ?? null,
        message: `It does not name the folder "${shown(font.folder)}" of ${shown(font.edition.font.name)}.`,
        why: 'The font is on the card, and the board never plays it.',
        mend: 'Add the folder to the config, or leave the font out.',
        fixable: false,
        measured: font.folder,
        limit: null,
      }))
  },
}
