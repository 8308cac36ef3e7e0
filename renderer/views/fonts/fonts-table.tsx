import { useVirtualizer } from '@tanstack/react-virtual'
import { useRef } from 'react'
import { focusLine } from '../../elements/focus-line.ts'
import { Icon } from '../../elements/icon.tsx'
import { FontLine } from './font-line.tsx'
import type { FontRow, SortKey, Sorting } from './font-row.ts'

const ROW_PIXELS = 50
const COLUMNS: readonly { readonly key: SortKey; readonly word: string; readonly isNumber?: boolean }[] = [
  { key: 'name', word: 'Font' },
  { key: 'creator', word: 'Creator' },
  { key: 'verdict', word: 'Verdict' },
  { key: 'sounds', word: 'Sounds', isNumber: true },
  { key: 'size', word: 'Size', isNumber: true },
  { key: 'licences', word: 'Licence' },
]

/** How far down the list was left: one comes back to it there. */
let leftAt = 0

interface FontsTableProps {
  readonly rows: readonly FontRow[]
  readonly sorting: Sorting
  readonly onSort: (sorting: Sorting) => void
}

/** One row a font, drawn only where it is seen. Up and Down, Home and End move between the fonts. */
export function FontsTable({ rows, sorting, onSort }: FontsTableProps) {
  const scroller = useRef<HTMLDivElement>(null)
  // No compiler memoizes this component: what it returns may change under the same name.
  // oxlint-disable-next-line react/incompatible-library
  const virtual = useVirtualizer({
    count: rows.length,
    getScrollElement: () => scroller.current,
    estimateSize: () => ROW_PIXELS,
    getItemKey: (index) => rows[index]?.id ?? index,
    overscan: 8,
    initialOffset: leftAt,
  })

  function focusRow(index: number): void {
    const wanted = Math.min(rows.length - 1, Math.max(0, index))
    virtual.scrollToIndex(wanted)
    focusLine(() => scroller.current?.querySelector(`[data-index="${wanted}"] a`))
  }

  function onKeyDown(event: React.KeyboardEvent): void {
    const row = (event.target as HTMLElement).closest<HTMLElement>('[data-index]')
    if (row === null) return
    const index = Number(row.dataset['index'])
    const next = { ArrowUp: index - 1, ArrowDown: index + 1, Home: 0, End: rows.length - 1 }[event.key]
    if (next === undefined) return
    event.preventDefault()
    focusRow(next)
  }

  return (
    <div className="fonts" role="table" aria-label="Fonts" aria-rowcount={rows.length + 1}>
      <div className="fonts-head" role="rowgroup">
        <div className="fonts-line" role="row" aria-rowindex={1}>
          <span role="columnheader">
            <span className="only-heard">On the card</span>
          </span>
          {COLUMNS.map(({ key, word, isNumber }) => (
            <span
              key={key}
              role="columnheader"
              className={isNumber === true ? 'number' : undefined}
              aria-sort={sorting.key === key ? (sorting.isDescending ? 'descending' : 'ascending') : 'none'}
            >
              <button
                type="button"
                className="fonts-sort"
                onClick={() =>
                  onSort({ key, isDescending: sorting.key === key ? !sorting.isDescending : false })
                }
              >
                {word}
                {sorting.key === key && <Icon name={sorting.isDescending ? 'down' : 'up'} />}
              </button>
            </span>
          ))}
        </div>
      </div>
      <div
        className="fonts-rows"
        ref={scroller}
        role="rowgroup"
        onKeyDown={onKeyDown}
        onScroll={(event) => (leftAt = event.currentTarget.scrollTop)}
      >
        <div className="fonts-all" role="presentation" style={{ height: virtual.getTotalSize() }}>
          {virtual.getVirtualItems().map((item) => {
            const row = rows[item.index]
            return row && <FontLine key={item.key} row={row} index={item.index} top={item.start} />
          })}
        </div>
        {rows.length === 0 && (
          <div role="row" className="fonts-line">
            <span role="cell" style={{ gridColumn: '1 / -1' }}>
              <p className="quiet">No font fits this search and filter.</p>
            </span>
          </div>
        )}
      </div>
    </div>
  )
}
