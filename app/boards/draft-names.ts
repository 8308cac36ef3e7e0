import type { ObservedCard } from '../model/observed-card.ts'

/** Classes of characters that people think in; one that was seen is taken as a whole. */
const CLASSES: readonly (readonly [string, RegExp])[] = [
  ['a-z', /[a-z]/],
  ['A-Z', /[A-Z]/],
  ['0-9', /[0-9]/],
]

/** What the names of a card's sounds and their folders show of what its board takes. */
export function draftNames({ files }: ObservedCard, schemeId: string | null): Record<string, unknown> {
  const paths = files.filter((file) => file.kind === 'sound').map((file) => file.path)
  if (paths.length === 0) return {}
  const names = paths.flatMap((path) => path.split('/'))
  const all = names.join('')
  const seen = CLASSES.filter(([, pattern]) => pattern.test(all))
  const others = [...new Set(all.replace(/[a-zA-Z0-9]/g, ''))].filter((character) => character !== '-').sort()
  const hyphen = all.includes('-') ? '-' : ''
  const charset = `[${seen.map(([range]) => range).join('')}${others.map(escaped).join('')}${hyphen}]`
  const hasLower = /\p{Ll}/u.test(all)
  const hasUpper = /\p{Lu}/u.test(all)
  return {
    ...(schemeId === null ? {} : { scheme: schemeId }),
    charset,
    letterCase: hasLower && hasUpper ? 'any' : hasUpper ? 'upper' : 'lower',
    longestNameUnits: Math.min(255, Math.max(...names.map((name) => name.length))),
    longestPathUnits: Math.max(...paths.map((path) => path.length)),
  }
}

function escaped(character: string): string {
  return /[\\\]^-]/.test(character) ? `\\${character}` : character
}
