import { AppError } from '../errors/app-error.ts'

const LONGEST_NAME_UNITS = 255
const FORBIDDEN = new Set('"*/:<>?\\|')
/** Names that common operating systems keep for devices, with any extension (from memory). */
const DEVICE = /^(con|prn|aux|nul|com[1-9¹²³]|lpt[1-9¹²³])(\.|$)/i

/** Why a name cannot stand on a card, as the end of a sentence; null where it can. */
export function nameFault(name: string): string | null {
  if (name === '') return 'is empty'
  if (name.length > LONGEST_NAME_UNITS) return `has ${name.length} UTF-16 units, and a card's name holds 255`
  for (const character of name) {
    const code = character.codePointAt(0) ?? 0
    if (code < 32 || code === 127) return 'has a control character'
    if (code >= 0xd800 && code <= 0xdfff) return 'has half a character (an unpaired surrogate)'
    if (FORBIDDEN.has(character)) return `has the character ${character}, which FAT forbids`
  }
  if (name.endsWith('.') || name.endsWith(' ')) return 'ends with a dot or a space'
  if (name.startsWith(' ')) return 'starts with a space'
  if (DEVICE.test(name)) return 'is a word that operating systems keep for devices'
  return null
}

/** @throws AppError `card/name-refused` */
export function requireCardName(name: string, path: string): void {
  const fault = nameFault(name)
  if (fault === null) return
  throw new AppError({
    code: 'card/name-refused',
    what: `The name "${printable(name)}" ${fault}.`,
    where: printable(path),
    mend: 'Rename the file or the font.',
  })
}

/**
 * What two names must not share to live in one folder: upper case character by character, accents
 * composed. Readers fold case each by its own table; this one folds at least what they fold.
 */
export function nameKey(name: string): string {
  let key = ''
  for (const character of name.normalize('NFC')) key += upperCased(character)
  return key
}

/** One character in upper case; itself where that would be several (as `ß`). */
export function upperCased(character: string): string {
  const upper = character.toUpperCase()
  return [...upper].length === 1 ? upper : character
}

function printable(text: string): string {
  // eslint-disable-next-line no-control-regex
  return text.replace(/[\u0000-\u001f\u007f\ud800-\udfff]/gu, '\ufffd')
}
