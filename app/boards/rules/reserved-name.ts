import { shown } from '../in-words.ts'
import { nameRule, renameMend } from './names-of.ts'

/**
 * Names that Windows keeps for devices, with any ending.
 * Source: Microsoft, "Naming Files, Paths, and Namespaces", reserved names; CLOCK$ from memory.
 */
const DEVICE = /^(con|prn|aux|nul|clock\$|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])(\.|$)/i

export const reservedName = nameRule('reserved-name', (name, look) => {
  const stem = name.replace(/\.[^.]*$/, '')
  const own = look.judges('names.reserved')
    ? look.board.names.reserved.find((word) =>
        [name, stem].some((each) => each.toUpperCase() === word.toUpperCase()),
      )
    : undefined
  const device = DEVICE.exec(name.trim())?.[1]
  if (own === undefined && device === undefined) return null
  return {
    message:
      own === undefined
        ? `"${shown(name)}" is a word that Windows keeps for a device.`
        : `"${shown(name)}" is a name that the board keeps to itself.`,
    why:
      own === undefined
        ? 'On Windows the file can be neither copied nor opened nor deleted in the usual ways.'
        : 'The board takes it for its own file.',
    ...renameMend(look),
    measured: own ?? device ?? name,
    limit: null,
  }
})
