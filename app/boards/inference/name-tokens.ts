/** One stretch of letters or digits of a path, in small letters. */
export interface NameToken {
  readonly text: string
  readonly isNumber: boolean
  /** Which part of the path it comes from: 0 is the file's own name, 1 the folder around it, and so on. */
  readonly depth: number
}

/** Deeper trees tell nothing new, and names of files are bounded anyway. */
const MOST_FOLDERS = 4
const MOST_TOKENS = 24

/**
 * Splits a path into words and numbers, the file's own name first, then its folders from the inside
 * out. Borders: anything that is no letter or digit, small letter to capital, letter to digit.
 */
export function nameTokens(path: string): readonly NameToken[] {
  const steps = path
    .normalize('NFC')
    .split('/')
    .reverse()
    .slice(0, MOST_FOLDERS + 1)
  return steps.flatMap((step, depth) => {
    const stem = depth === 0 ? step.replace(/\.[^.]*$/, '') : step
    const pieces = stem
      .replace(/(?<=\p{Ll})(?=\p{Lu})|(?<=\p{L})(?=\p{Nd})|(?<=\p{Nd})(?=\p{L})/gu, ' ')
      .split(/[^\p{L}\p{M}\p{Nd}]+/u)
      .filter((piece) => piece !== '')
    return pieces.slice(0, MOST_TOKENS).map((piece): NameToken => {
      const text = piece.toLowerCase()
      return { text, isNumber: /^[0-9]+$/.test(text), depth }
    })
  })
}
