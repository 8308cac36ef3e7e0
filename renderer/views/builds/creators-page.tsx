import { Link } from 'wouter'
import type { Creator } from '../../../app/model/records.ts'
import { ListTable, type Column } from '../../elements/list-table.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { RecordsPlaces } from './records-places.tsx'

const COLUMNS: readonly Column<Creator>[] = [
  { head: 'Name', look: 'name', cell: ({ id, name }) => <Link href={`/builds/creators/${id}`}>{name}</Link> },
  { head: 'Contact', look: 'break', cell: ({ contact }) => contact || '–' },
  { head: 'Note', look: 'break', cell: ({ note }) => note || '–' },
]

export function CreatorsPage() {
  const creators = useAsk('creators:list', {})
  return (
    <div className="page-stack">
      <RecordsPlaces />
      <PageHead title="Creators" about="Who made the fonts">
        <PageLink to="/builds/creators/new" isMain>
          Add a creator
        </PageLink>
      </PageHead>
      <WhenLoaded loaded={creators} what="creators">
        {({ creators: rows }) => (
          <ListTable rows={rows} keyOf={({ id }) => id} columns={COLUMNS} none="No creators yet." />
        )}
      </WhenLoaded>
    </div>
  )
}
