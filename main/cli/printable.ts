const CONTROL = /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g

/**
 * Text from files and archives, safe on a terminal: control characters, which could move the cursor
 * or recolour the screen, and marks that turn the reading order are shown as `\x1b`, `\u202e`.
 */
export function printable(text: string): string {
  return text.replace(CONTROL, (character) => {
    const code = character.charCodeAt(0)
    return code < 0x100 ? `\\x${code.toString(16).padStart(2, '0')}` : `\\u${code.toString(16)}`
  })
}
