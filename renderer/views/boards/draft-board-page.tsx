import { useState } from 'react'
import { counted } from '../../elements/in-words.ts'
import { LongCallFoot } from '../../elements/long-call-foot.tsx'
import { Note } from '../../elements/note.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { PathField } from '../../elements/path-field.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { BoardNames } from './board-names.tsx'
import { BoardWords } from './board-words.tsx'

/** A first board file from a card that plays: what it shows is marked as seen playing, nothing else. */
export function DraftBoardPage() {
  const { now, start } = useLongCall('boards:draft')
  const [from, setFrom] = useState('')
  const [boardId, setBoardId] = useState('')
  const [title, setTitle] = useState('')
  return (
    <div className="page-stack">
      <PageHead
        title="Draft a board from a card"
        about="Of a card that plays in a hilt: its rates, depths, names, folders and order. It is only read."
      />
      <form
        className="sheet sheet-stack"
        aria-label="Draft"
        onSubmit={(event) => {
          event.preventDefault()
          if (from.trim() === '' || now.state === 'running') return
          start({ from: from.trim(), boardId: boardId.trim(), title, keep: true })
        }}
      >
        <PathField
          label="Folder or image of the card"
          description="Where the card is mounted, a copy of it, or an image of it"
          kinds={['folder', 'image-to-read']}
          value={from}
          onChange={setFrom}
        />
        <div className="form">
          <BoardNames boardId={boardId} title={title} onBoardId={setBoardId} onTitle={setTitle} />
        </div>
        <LongCallFoot
          act="Draft the board"
          name={`Draft from ${from}`}
          now={now}
          isDisabled={from.trim() === ''}
        />
      </form>
      {now.state === 'done' && (
        <>
          <Note
            tone="good"
            role="status"
            title={`${now.value.board.title} was drafted from ${counted(now.value.soundCount, 'sound')} in ${counted(now.value.fontFolders.length, 'font')}.`}
          >
            <p className="mono break">{now.value.path}</p>
            <p>What was not seen on the card is not known, and judges nothing until you fill it in.</p>
          </Note>
          <div className="row">
            <PageLink to={`/boards/${now.value.board.id}`} isMain>
              Edit its text
            </PageLink>
          </div>
          <BoardWords board={now.value.board} />
        </>
      )}
    </div>
  )
}
