import { Select } from '@mantine/core'
import { useState } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { PageHead } from '../../elements/page-head.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { BoardDifferences } from './board-differences.tsx'

type Boards = ResponseOf<'boards:list'>['boards']

/** The limits in which two boards differ. */
export function CompareBoardsPage({ boardId }: { readonly boardId: string | null }) {
  const boards = useAsk('boards:list', {})
  return (
    <div className="page-stack">
      <PageHead title="Compare two boards" about="Only the limits in which they differ" />
      <WhenLoaded loaded={boards} what="boards">
        {(value) => <Comparison boards={value.boards} first={boardId} />}
      </WhenLoaded>
    </div>
  )
}

function Comparison({ boards, first }: { readonly boards: Boards; readonly first: string | null }) {
  const [a, setA] = useState(() => boards.find(({ id }) => id === first)?.id ?? boards[0]?.id ?? null)
  const [b, setB] = useState(() => boards.find(({ id }) => id !== a)?.id ?? null)
  const diff = useAsk('boards:diff', a === null || b === null ? null : { boardIdA: a, boardIdB: b })
  const data = boards.map(({ id, title }) => ({ value: id, label: title }))
  const titleOf = (boardId: string) => boards.find(({ id }) => id === boardId)?.title ?? boardId
  return (
    <div className="sheet-stack">
      <div className="row">
        <Select label="One board" data={data} value={a} onChange={setA} allowDeselect={false} />
        <Select label="The other" data={data} value={b} onChange={setB} allowDeselect={false} />
      </div>
      <WhenLoaded loaded={diff} what="differences">
        {({ boardA, boardB, differences }) => (
          <BoardDifferences titleA={titleOf(boardA)} titleB={titleOf(boardB)} differences={differences} />
        )}
      </WhenLoaded>
    </div>
  )
}
