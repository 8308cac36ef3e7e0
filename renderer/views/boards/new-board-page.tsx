import { Button, Select } from '@mantine/core'
import { useState } from 'react'
import { useLocation } from 'wouter'
import { ErrorNote } from '../../elements/error-note.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChange } from '../../hooks/use-change.ts'
import { BoardNames } from './board-names.tsx'

/** A new board of the workshop that extends another, whose limits hold where it sets none. */
export function NewBoardPage({ parentId }: { readonly parentId: string | null }) {
  const boards = useAsk('boards:list', {})
  return (
    <div className="page-stack">
      <PageHead
        title="Make a board"
        about="A board file of your workshop; what it does not set is taken from the board it extends"
      />
      <WhenLoaded loaded={boards} what="boards">
        {(value) => (
          <NewBoardForm
            parents={value.boards}
            first={value.boards.find(({ id }) => id === parentId)?.id ?? value.boards[0]?.id ?? null}
          />
        )}
      </WhenLoaded>
    </div>
  )
}

interface NewBoardFormProps {
  readonly parents: readonly { readonly id: string; readonly title: string }[]
  readonly first: string | null
}

function NewBoardForm({ parents, first }: NewBoardFormProps) {
  const [, go] = useLocation()
  const change = useChange('boards:new')
  const [parentId, setParentId] = useState(first)
  const [boardId, setBoardId] = useState('')
  const [title, setTitle] = useState('')
  return (
    <form
      className="sheet sheet-stack"
      aria-label="New board"
      onSubmit={(event) => {
        event.preventDefault()
        const request = { boardId: boardId.trim(), title, ...(parentId === null ? {} : { parentId }) }
        void change.run(request).then((made) => made !== undefined && go(`/boards/${made.board.id}`))
      }}
    >
      <div className="form">
        <Select
          label="From the board"
          data={parents.map(({ id, title: word }) => ({ value: id, label: word }))}
          value={parentId}
          onChange={setParentId}
          allowDeselect={false}
        />
        <BoardNames boardId={boardId} title={title} onBoardId={setBoardId} onTitle={setTitle} />
      </div>
      {change.error !== null && <ErrorNote error={change.error} />}
      <div>
        <Button type="submit" loading={change.isRunning}>
          Make the board
        </Button>
      </div>
    </form>
  )
}
