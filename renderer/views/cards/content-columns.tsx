import { Link } from 'wouter'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { momentInWords } from '../../elements/in-words.ts'
import type { Column } from '../../elements/list-table.tsx'

export type ListedContent = ResponseOf<'contents:list'>['contents'][number]

/** Fingerprint and moment, by which contents are told apart. */
export const CONTENT_NAMED: readonly Column<ListedContent>[] = [
  {
    head: 'Fingerprint',
    look: 'name mono',
    cell: ({ fingerprint }) => <Link href={`/cards/contents/${fingerprint}`}>{fingerprint}</Link>,
  },
  { head: 'Made', isNumber: true, cell: ({ createdAt }) => <Moment iso={createdAt} /> },
]

/** How large its image is, and which fonts are on it. */
export const CONTENT_HOLDS: readonly Column<ListedContent>[] = [
  { head: 'Image', isNumber: true, cell: ({ imageBytes }) => inUnits(imageBytes) },
  { head: 'Fonts, in play order', cell: ({ fonts }) => fonts.join(', ') },
]

function Moment({ iso }: { readonly iso: string }) {
  const [day, ...time] = momentInWords(iso).split(' ')
  return (
    <span className="in-pieces">
      <span className="whole">{day}</span> <span className="whole">{time.join(' ')}</span>
    </span>
  )
}
