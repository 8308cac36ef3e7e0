import { Link } from 'wouter'
import type { Build } from '../../../app/model/records.ts'
import { counted } from '../../elements/in-words.ts'
import { ListTable, type Column } from '../../elements/list-table.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { RecordsPlaces } from './records-places.tsx'

const COLUMNS: readonly Column<Build>[] = [
  { head: 'Code', look: 'name', cell: ({ id, code }) => <Link href={`/builds/${id}`}>{code}</Link> },
  { head: 'Client', cell: ({ clientLabel }) => clientLabel || '–' },
  { head: 'Board', look: 'mono', cell: ({ boardId }) => boardId },
  {
    head: 'Speaker',
    cell: ({ speaker, speakerLowLimitHz }) => (
      <>
        {speaker || '–'}
        {speakerLowLimitHz !== null && <span className="quiet"> from {speakerLowLimitHz} Hz</span>}
      </>
    ),
  },
  { head: 'Fonts', cell: ({ fontEditionIds }) => counted(fontEditionIds.length, 'font') },
  { head: 'Config', look: 'mono', cell: ({ config }) => config?.fileName ?? '–' },
]

export function BuildsPage() {
  const builds = useAsk('builds:list', {})
  return (
    <div className="page-stack">
      <RecordsPlaces />
      <PageHead title="Builds" about="One hilt each, with its board, its fonts in order, its config">
        <PageLink to="/builds/new" isMain>
          Add a build
        </PageLink>
      </PageHead>
      <WhenLoaded loaded={builds} what="builds">
        {({ builds: rows }) => (
          <ListTable rows={rows} keyOf={({ id }) => id} columns={COLUMNS} none="No builds yet." />
        )}
      </WhenLoaded>
    </div>
  )
}
