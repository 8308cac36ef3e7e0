import { Link } from 'wouter'
import type { Licence } from '../../../app/model/records.ts'
import { ListTable, type Column } from '../../elements/list-table.tsx'

const COLUMNS: readonly Column<Licence>[] = [
  {
    head: 'Font',
    look: 'name',
    cell: ({ id, fontName }) => <Link href={`/builds/licences/${id}`}>{fontName}</Link>,
  },
  { head: 'Kind', cell: ({ kind }) => kind },
  { head: 'Holder', cell: ({ holder }) => holder || '–' },
  { head: 'Granted on', isNumber: true, cell: ({ grantedOn }) => grantedOn || '–' },
  { head: 'Order reference', look: 'break', cell: ({ orderReference }) => orderReference || '–' },
  { head: 'Terms', look: 'break', cell: ({ terms }) => terms || '–' },
  { head: 'Conversion allowed', cell: ({ conversionAllowed }) => conversionAllowed },
]

export function LicencesTable({ licences }: { readonly licences: readonly Licence[] }) {
  return <ListTable rows={licences} keyOf={({ id }) => id} columns={COLUMNS} none="No licences yet." />
}
