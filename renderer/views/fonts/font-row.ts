import type { ResponseOf } from '../../../app/contract/calls.ts'
import { VERDICTS, type VerdictWord } from '../../../app/model/finding.ts'
import { isFound } from '../../elements/list-search.ts'

export type FontRow = ResponseOf<'fonts:list'>['fonts'][number]

export const SORTS = ['name', 'creator', 'verdict', 'sounds', 'size', 'licences'] as const
export type SortKey = (typeof SORTS)[number]

export interface Sorting {
  readonly key: SortKey
  readonly isDescending: boolean
}

export type Filter = VerdictWord | 'unlicensed' | 'gone'

/** What a card would get: prepared copies where there are some. */
const verdictNow = ({ verdict, preparedVerdict }: FontRow) => preparedVerdict ?? verdict

export function creatorOf({ font }: FontRow): string {
  return font.creatorName ?? font.proposedCreatorName ?? ''
}

export function fits(row: FontRow, filter: Filter): boolean {
  if (filter === 'gone') return row.state === 'gone'
  if (filter === 'unlicensed') return row.licenceCount === 0
  return verdictNow(row)?.word === filter
}

/** Rows that hold every word of the search in name, version, creator or path, in the order asked for. */
export function chosenRows(
  rows: readonly FontRow[],
  search: string,
  filter: Filter | null,
  sorting: Sorting,
): readonly FontRow[] {
  const kept = rows.filter((row) => {
    if (filter !== null && !fits(row, filter)) return false
    const text = [row.font.name, row.version, creatorOf(row), ...row.places.map((place) => place.path)]
    return isFound(search, text.join(' '))
  })
  const sign = sorting.isDescending ? -1 : 1
  return kept.sort((a, b) => sign * COMPARE[sorting.key](a, b) || byName(a, b))
}

const byName = (a: FontRow, b: FontRow) =>
  NAMES.compare(a.font.name, b.font.name) || NAMES.compare(a.version, b.version)

const NAMES = new Intl.Collator('en', { numeric: true })
function rank(row: FontRow): number {
  const verdict = verdictNow(row)
  return verdict === null ? -1 : VERDICTS.indexOf(verdict.word)
}
const errorsOf = (row: FontRow) => verdictNow(row)?.errorCount ?? 0

const COMPARE: Readonly<Record<SortKey, (a: FontRow, b: FontRow) => number>> = {
  name: byName,
  creator: (a, b) => NAMES.compare(creatorOf(a), creatorOf(b)),
  verdict: (a, b) => rank(a) - rank(b) || errorsOf(a) - errorsOf(b),
  sounds: (a, b) => a.soundCount - b.soundCount,
  size: (a, b) => a.sizeBytes - b.sizeBytes,
  licences: (a, b) => a.licenceCount - b.licenceCount,
}
