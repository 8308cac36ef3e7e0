import { useMemo, useState } from 'react'
import { isFound } from '../../elements/list-search.ts'
import { ListTable, type Column } from '../../elements/list-table.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { SearchField } from '../../elements/search-field.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { CONTENT_HOLDS, CONTENT_NAMED, type ListedContent } from './content-columns.tsx'

/** A content with its builds and their clients, empty where none is on record. */
type Row = ListedContent & {
  readonly madeFor: readonly { readonly code: string; readonly client: string }[]
}

const COLUMNS: readonly Column<Row>[] = [
  ...CONTENT_NAMED,
  {
    head: 'Build',
    cell: ({ madeFor }) =>
      madeFor.length === 0
        ? '–'
        : madeFor.map(({ code, client }) => (
            <div key={code} className="in-pieces">
              <span className="whole">{code}</span>{' '}
              {client !== '' && <span className="quiet whole">{client}</span>}
            </div>
          )),
  },
  { head: 'Board', look: 'mono whole', cell: ({ board }) => board },
  ...CONTENT_HOLDS,
  {
    head: 'Acts',
    isHeadHidden: true,
    cell: ({ fingerprint }) => (
      <div className="row unbroken">
        <PageLink to={`/cards/verify/${fingerprint}`}>
          Verify<span className="only-heard"> against {fingerprint}</span>
        </PageLink>
        <PageLink to={`/cards/remake/${fingerprint}`}>
          Remake<span className="only-heard"> {fingerprint}</span>
        </PageLink>
      </div>
    ),
  },
]

/** All contents, with a search over what is told of each. */
export function ContentsList({ contents }: { readonly contents: readonly ListedContent[] }) {
  const [search, setSearch] = useState('')
  const builds = valueOr(useAsk('builds:list', {}), undefined)?.builds
  const rows = useMemo(() => {
    const clients = new Map(builds?.map(({ code, clientLabel }) => [code, clientLabel]))
    return contents.map((content) => ({
      ...content,
      madeFor: content.builds.map((code) => ({ code, client: clients.get(code) ?? '' })),
    }))
  }, [contents, builds])
  const shown = rows.filter((row) => isFound(search, textOf(row), [row.fingerprint]))
  return (
    <>
      {rows.length > 0 && (
        <SearchField
          noun="card"
          by="Fingerprint, build, client, board or font"
          search={search}
          onSearch={setSearch}
          shownCount={shown.length}
          count={rows.length}
        />
      )}
      <ListTable
        rows={shown}
        keyOf={({ fingerprint }) => fingerprint}
        columns={COLUMNS}
        none={rows.length === 0 ? 'No card has been made yet.' : 'No card fits this search.'}
      />
    </>
  )
}

function textOf({ madeFor, board, fonts }: Row): string {
  return [...madeFor.flatMap(({ code, client }) => [code, client]), board, ...fonts].join(' ')
}
