import { nameKey, upperCased } from './card-name.ts'

const SHORT_SYMBOLS = new Set("!#$%&'()-@^_`{}~")
const MOST_TAIL = 999_999

/** Whether a name needs no long slots: an upper-case 8.3 name, as its short slot spells it. */
export function isShortName(name: string, shortName: string): boolean {
  return shownShortName(shortName) === name
}

/** An eleven-character short name as it is shown: `HUM     WAV` is `HUM.WAV`. */
export function shownShortName(shortName: string): string {
  const base = shortName.slice(0, 8).trimEnd()
  const extension = shortName.slice(8).trimEnd()
  return extension === '' ? base : `${base}.${extension}`
}

/**
 * Short names of all names of one folder, in the same order: FAT 1.03, "Basis-Name Generation" and
 * "Numeric-Tail Generation". Names that spell themselves come first, so that no tail takes one's
 * place. No short name equals another name of the folder, long or short.
 *
 * @param names without two that share a `nameKey`
 * @returns eleven characters each, padded with spaces
 */
export function shortNamesOf(names: readonly string[]): string[] {
  const taken = new Set(names.map(nameKey))
  const nextTail = new Map<string, number>()
  return names.map((name) => {
    const basis = basisOf(name)
    const plain = padded(basis.base.slice(0, 8), basis.extension)
    if (!basis.isLossy && nameKey(shownShortName(plain)) === nameKey(name)) return plain
    return tailed(basis, taken, nextTail)
  })
}

interface Basis {
  readonly base: string
  readonly extension: string
  readonly isLossy: boolean
}

function basisOf(name: string): Basis {
  const stem = name.replace(/^[. ]+/, '')
  const dot = stem.lastIndexOf('.')
  const base = shortCharacters(dot < 0 ? stem : stem.slice(0, dot))
  const extension = shortCharacters(dot < 0 ? '' : stem.slice(dot + 1))
  const isLossy = base.isLossy || extension.isLossy || base.text.length > 8 || extension.text.length > 3
  return { base: base.text, extension: extension.text.slice(0, 3), isLossy }
}

function shortCharacters(part: string): { text: string; isLossy: boolean } {
  let text = ''
  let isLossy = false
  for (const character of part) {
    if (character === ' ' || character === '.') continue
    const upper = upperCased(character)
    const isLegal = /^[A-Z0-9]$/.test(upper) || SHORT_SYMBOLS.has(upper)
    text += isLegal ? upper : '_'
    isLossy ||= !isLegal
  }
  return { text, isLossy }
}

function tailed(basis: Basis, taken: Set<string>, nextTail: Map<string, number>): string {
  const start = `${basis.base.slice(0, 6)}.${basis.extension}`
  for (let tail = nextTail.get(start) ?? 1; tail <= MOST_TAIL; tail++) {
    const mark = `~${tail}`
    const candidate = padded(basis.base.slice(0, 8 - mark.length) + mark, basis.extension)
    const key = nameKey(shownShortName(candidate))
    if (taken.has(key)) continue
    taken.add(key)
    nextTail.set(start, tail + 1)
    return candidate
  }
  throw new RangeError('more names of one beginning than numeric tails')
}

function padded(base: string, extension: string): string {
  return base.padEnd(8) + extension.padEnd(3)
}
