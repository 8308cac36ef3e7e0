import { nearestWord } from '../boards/edit-distance.ts'
import { AppError } from '../errors/app-error.ts'
import type { EditionSummary } from '../model/library.ts'

/**
 * The edition that a user's words mean: an id, a font's name, or name and version (`Ember 2`,
 * `Ember v2`), upper and lower case alike. Editions that are there win over those that are gone.
 *
 * @throws AppError `font/unknown` (with the nearest name, or the font that lies at a path of these words),
 *   `font/ambiguous` (with the candidates)
 */
export function findFont(words: string, editions: readonly EditionSummary[]): EditionSummary {
  const byId = editions.find((edition) => edition.id === words)
  if (byId !== undefined) return byId
  const wanted = folded(words)
  const named = editions.filter((edition) => folded(edition.font.name) === wanted)
  const matching =
    named.length > 0 ? named : editions.filter((edition) => spellings(edition).includes(wanted))
  const present = matching.filter((edition) => edition.state === 'present')
  const [first, ...others] = present.length > 0 ? present : matching
  if (first === undefined) throw unknownFont(words, editions)
  if (others.length > 0) throw ambiguousFont(words, [first, ...others])
  return first
}

/** `Ember v2` for people; the version is left out where none is known. */
export function fontTitle(name: string, version: string): string {
  return version === '' ? name : `${name} v${version}`
}

function spellings({ font, version }: EditionSummary): readonly string[] {
  return version === '' ? [] : [folded(`${font.name} ${version}`), folded(`${font.name} v${version}`)]
}

function folded(text: string): string {
  return text.normalize('NFC').trim().toLowerCase()
}

function unknownFont(words: string, editions: readonly EditionSummary[]): AppError {
  return new AppError({
    code: 'font/unknown',
    what: 'The library has no font of this name or id.',
    where: words,
    mend: mendOfUnknown(words, editions),
  })
}

function mendOfUnknown(words: string, editions: readonly EditionSummary[]): string {
  if (editions.length === 0) return 'The library is empty: scan a folder first.'
  const lying = editions.find(({ places }) => places.some(({ path }) => isPathOf(path, words)))
  if (lying !== undefined) {
    return `What lies there is "${fontTitle(lying.font.name, lying.version)}": say that name, or its id ${lying.id}.`
  }
  const nearest = nearestWord(words, [...new Set(editions.map((edition) => edition.font.name))])
  return nearest === null ? '`fonts list` shows all names.' : `Did you mean "${nearest}"?`
}

/** Whether the user's words are a path, whole or from one of its folders on. */
function isPathOf(path: string, words: string): boolean {
  if (!/[\\/]/.test(words)) return false
  const parts = (text: string) => text.split(/[\\/]+/).filter((part) => part !== '' && part !== '.')
  const wanted = parts(words)
  return wanted.length > 0 && parts(path).slice(-wanted.length).join('/') === wanted.join('/')
}

const MOST_CANDIDATES = 6

function ambiguousFont(words: string, editions: readonly EditionSummary[]): AppError {
  const shown = editions.slice(0, MOST_CANDIDATES).map((edition) => {
    const maker = edition.font.creatorName ?? edition.font.proposedCreatorName
    const by = maker === null ? '' : ` by ${maker}`
    return `${edition.id} (${fontTitle(edition.font.name, edition.version)}${by}, ${edition.places[0]?.path ?? 'place unknown'})`
  })
  const more = editions.length - shown.length
  const versions = new Set(editions.map(({ version }) => version))
  return new AppError({
    code: 'font/ambiguous',
    what: `${editions.length} editions answer to this name: ${shown.join('; ')}${more > 0 ? `; and ${more} more` : ''}.`,
    where: words,
    mend: versions.size > 1 ? 'Say the name with its version, or the id.' : 'Say the id.',
  })
}
