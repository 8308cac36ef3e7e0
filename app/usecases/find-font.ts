import { nearestWord } from '../boards/edit-distance.ts'
import { AppError } from '../errors/app-error.ts'
import type { EditionSummary } from '../model/library.ts'

/**
 * The edition that a user's words mean: an id, a font's name, or name and version (`Ember 2`,
 * `Ember v2`), upper and lower case alike. Editions that are there win over those that are gone.
 *
 * @throws AppError `font/unknown` (with the nearest name), `font/ambiguous` (with the candidates)
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
  const nearest = nearestWord(words, [...new Set(editions.map((edition) => edition.font.name))])
  return new AppError({
    code: 'font/unknown',
    what: 'The library has no font of this name or id.',
    where: words,
    mend:
      nearest !== null
        ? `Did you mean "${nearest}"?`
        : editions.length === 0
          ? 'The library is empty: scan a folder first.'
          : '`fonts list` shows all names.',
  })
}

const MOST_CANDIDATES = 6

function ambiguousFont(words: string, editions: readonly EditionSummary[]): AppError {
  const shown = editions.slice(0, MOST_CANDIDATES).map((edition) => {
    const maker = edition.font.creatorName ?? edition.font.proposedCreatorName
    const by = maker === null ? '' : ` by ${maker}`
    return `${edition.id} (${fontTitle(edition.font.name, edition.version)}${by}, ${edition.places[0]?.path ?? 'place unknown'})`
  })
  const more = editions.length - shown.length
  return new AppError({
    code: 'font/ambiguous',
    what: `${editions.length} editions answer to this name: ${shown.join('; ')}${more > 0 ? `; and ${more} more` : ''}.`,
    where: words,
    mend: 'Say the id, or the name with its version.',
  })
}
