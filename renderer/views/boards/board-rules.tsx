import type { ResponseOf } from '../../../app/contract/calls.ts'
import { counted } from '../../elements/in-words.ts'
import { ListTable, type Column } from '../../elements/list-table.tsx'
import { SeverityMark } from '../../elements/severity-mark.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'

type Rule = ResponseOf<'boards:rules'>['rules'][number]

const COLUMNS: readonly Column<Rule>[] = [
  { head: 'Rule', look: 'mono', cell: ({ rule }) => rule },
  { head: 'Severity', cell: ({ severity, change }) => <Weight of={change?.severity ?? severity} /> },
  {
    head: 'On a card as found',
    cell: ({ inPlace, change }) => <Weight of={change?.severity ?? inPlace} />,
  },
  {
    head: 'Why',
    look: 'break',
    cell: ({ because, change }) =>
      change === null ? because : `By this board: ${change.reason}. Otherwise: ${because}`,
  },
]

/** Every rule that fonts are judged by for a board, with what its file changes of them. */
export function BoardRules({ boardId }: { readonly boardId: string }) {
  const loaded = useAsk('boards:rules', { boardId })
  return (
    <WhenLoaded loaded={loaded} what="the rules">
      {({ rules }) => {
        const changed = rules.filter(({ change }) => change !== null).length
        return (
          <details className="sheet">
            <summary>
              {counted(rules.length, 'rule')} that fonts are judged by
              {changed > 0 && `, ${changed} of them weighed otherwise by this board`}
            </summary>
            <ListTable name="Rules" rows={rules} keyOf={({ rule }) => rule} columns={COLUMNS} none="" />
          </details>
        )
      }}
    </WhenLoaded>
  )
}

function Weight({ of }: { readonly of: Rule['severity'] | 'off' }) {
  return of === 'off' ? <span className="mark tone-unknown">off</span> : <SeverityMark severity={of} />
}
