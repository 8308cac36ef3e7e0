import { shown } from '../in-words.ts'
import { folderKey, foldersNamed } from './config-folders.ts'
import type { CardRule } from './rule.ts'

/** Folders that the config names and the card does not have; only where the board reads the card's config. */
export const configFolderAbsent: CardRule = {
  id: 'config-folder-absent',
  judge: (look) => {
    if (look.board.config?.use !== 'read-from-card') return []
    const present = new Set(look.fonts.map((font) => folderKey(font.folder)))
    const absent = (foldersNamed(look) ?? []).filter((folder) => !present.has(folderKey(folder)))
    return [...new Set(absent)].map((folder) => ({
      path: look.config?.fileName ?? null,
      message: `It names the folder "${shown(folder)}", and the card has none of that name.`,
      why: 'The board stays silent for that font, or does not start.',
      mend: 'Add the font, or take the line out of the config.',
      fixable: false,
      measured: folder,
      limit: null,
    }))
  },
}
