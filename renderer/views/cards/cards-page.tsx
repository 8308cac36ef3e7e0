import { ListTable, type Column } from '../../elements/list-table.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { CardsPlaces } from './cards-places.tsx'
import { CONTENT_HOLDS, CONTENT_NAMED, type ListedContent } from './content-columns.tsx'

const COLUMNS: readonly Column<ListedContent>[] = [
  ...CONTENT_NAMED,
  { head: 'Build', look: 'whole', cell: ({ build }) => build ?? '–' },
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

/** Every content that was made, the newest first: what is on it, proof of it, and the same again. */
export function CardsPage() {
  const contents = useAsk('contents:list', {})
  return (
    <div className="page-stack">
      <CardsPlaces />
      <PageHead title="Cards" about="What was made, what is on it, and the same again">
        <PageLink to="/cards/make" isMain>
          Make a card
        </PageLink>
      </PageHead>
      <WhenLoaded loaded={contents} what="cards">
        {({ contents: rows }) => (
          <ListTable
            rows={rows}
            keyOf={({ fingerprint }) => fingerprint}
            columns={COLUMNS}
            none="No card has been made yet."
          />
        )}
      </WhenLoaded>
    </div>
  )
}
