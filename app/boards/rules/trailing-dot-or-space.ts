import { shown } from '../in-words.ts'
import { nameRule, renameMend } from './names-of.ts'

/** Source: Microsoft, "Naming Files, Paths, and Namespaces": do not end a name with a space or a period. */
export const trailingDotOrSpace = nameRule('trailing-dot-or-space', (name, look) => {
  if (!/[. ]$/.test(name)) return null
  return {
    message: `"${shown(name)}" ends with a ${name.endsWith('.') ? 'dot' : 'space'}.`,
    why: 'Windows and some boards cut it off and then do not find the file.',
    ...renameMend(look),
    measured: name,
    limit: null,
  }
})
