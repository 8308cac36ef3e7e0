import { characterTest } from '../folder-name.ts'
import { shown } from '../in-words.ts'
import type { FontLook } from './font-look.ts'
import { nameRule, renameMend } from './names-of.ts'
import type { FontRule } from './rule.ts'

/** Characters that the board does not take. A letter that only has the wrong case is another rule's. */
export const nameCharset: FontRule = {
  id: 'name-charset',
  judge: (look) => (look.judges('names.charset') ? rule(characterTest(look.board)).judge(look) : []),
}

const rule = (allowed: (character: string) => boolean): FontRule =>
  nameRule('name-charset', (name, look: FontLook) => {
    const odd = [...name].find((character) => !anyCase(character).some(allowed))
    if (odd === undefined) return null
    const code = (odd.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')
    return {
      message: `"${shown(name)}" has the character "${shown(odd)}" (U+${code}); the board takes ${look.board.names.charset}.`,
      why: 'The board does not find the file, or shows and sorts it wrongly.',
      ...renameMend(look),
      measured: odd,
      limit: look.board.names.charset,
    }
  })

function anyCase(character: string): string[] {
  return [character, character.toLowerCase(), character.toUpperCase()]
}
