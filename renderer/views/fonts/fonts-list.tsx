import { useMemo } from 'react'
import { VERDICTS } from '../../../app/model/finding.ts'
import { Icon } from '../../elements/icon.tsx'
import { SearchField } from '../../elements/search-field.tsx'
import { useKept } from '../../hooks/use-kept.ts'
import { FontsTable } from './fonts-table.tsx'
import { chosenRows, fits, type Filter, type FontRow, type Sorting } from './font-row.ts'

const FILTERS: readonly { readonly filter: Filter; readonly word: string }[] = [
  ...VERDICTS.map((word) => ({ filter: word, word })),
  { filter: 'unlicensed', word: 'no licence' },
  { filter: 'gone', word: 'gone' },
]

const NAMES_FIRST: Sorting = { key: 'name', isDescending: false }

/** All fonts, with a search and filters over them; one comes back to them as they were left. */
export function FontsList({ rows }: { readonly rows: readonly FontRow[] }) {
  const [search, setSearch] = useKept('cardwright-fonts-search', '')
  const [filter, setFilter] = useKept<Filter | null>('cardwright-fonts-filter', null)
  const [sorting, setSorting] = useKept<Sorting>('cardwright-fonts-sorting', NAMES_FIRST)
  const shown = useMemo(() => chosenRows(rows, search, filter, sorting), [rows, search, filter, sorting])
  return (
    <>
      <SearchField
        noun="font"
        by="Name, creator or folder"
        search={search}
        onSearch={setSearch}
        shownCount={shown.length}
        count={rows.length}
      >
        <fieldset className="filters">
          <legend className="only-heard">Show only</legend>
          {FILTERS.map(({ filter: each, word }) => {
            const count = rows.filter((row) => fits(row, each)).length
            if (count === 0 && filter !== each) return null
            return (
              <button
                key={each}
                type="button"
                className="filter"
                aria-pressed={filter === each}
                onClick={() => setFilter(filter === each ? null : each)}
              >
                {each !== 'unlicensed' && each !== 'gone' && <Icon name={each} />}
                {each === 'unlicensed' && <Icon name="licence" />}
                {word} <strong className="number">{count}</strong>
              </button>
            )
          })}
        </fieldset>
      </SearchField>
      <FontsTable rows={shown} sorting={sorting} onSort={setSorting} />
    </>
  )
}
