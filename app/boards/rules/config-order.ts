import { listed } from '../in-words.ts'
import { folderKey, foldersNamed } from './config-folders.ts'
import type { CardRule } from './rule.ts'

/** Fonts that both the config and the card have, in another order; names that only one of them has are other findings. */
export const configOrder: CardRule = {
  id: 'config-order',
  judge: (look) => {
    const named = foldersNamed(look)
    if (look.board.config?.use !== 'read-from-card' || named === null) return []
    const planned = look.fonts.map((font) => font.folder)
    const keys = new Set(planned.map(folderKey))
    const inConfig = [...new Set(named.map(folderKey))].filter((key) => keys.has(key))
    const onCard = planned.filter((folder) => inConfig.includes(folderKey(folder)))
    const [byConfig, byCard] = [inConfig, onCard.map(folderKey)]
    if (byConfig.every((key, index) => key === byCard[index])) return []
    const shownByConfig = byConfig.map((key) => onCard.find((folder) => folderKey(folder) === key) ?? key)
    return [
      {
        path: look.config?.fileName ?? null,
        message: `It names the fonts in the order ${listed(shownByConfig.slice(0, 12), 'and')}; the card has ${listed(onCard.slice(0, 12), 'and')}.`,
        why: 'Fonts play in the order of the config, and not as planned.',
        mend: 'Change the order in the config, or in the build.',
        fixable: false,
        measured: shownByConfig[0] ?? null,
        limit: onCard[0] ?? null,
      },
    ]
  },
}
