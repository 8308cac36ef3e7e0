import { Button } from '@mantine/core'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useBoardEdit } from '../../hooks/use-board-edits.tsx'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'
import { useTestedBoard } from '../../hooks/use-tested-board.ts'
import { BoardEditor } from './board-editor.tsx'
import { BoardRules } from './board-rules.tsx'
import { BoardVersions } from './board-versions.tsx'
import { BoardWords } from './board-words.tsx'

type Shown = ResponseOf<'boards:show'>

/** A board in words, each limit with how it is known, and as the text of its file. */
export function BoardPage({ boardId }: { readonly boardId: string }) {
  const loaded = useAsk('boards:show', { boardId })
  const chosen = useChosenBoard()
  return (
    <WhenLoaded loaded={loaded} what="the board">
      {(shown) => (
        <div className="page-stack">
          <PageHead title={shown.board.title} about={shown.board.notes}>
            <div className="row">
              <PageLink to={`/boards/make/from/${shown.board.id}`}>Make one from it</PageLink>
              <PageLink to={`/boards/compare/with/${shown.board.id}`}>Compare</PageLink>
              <PageLink to={`/boards/learn/${shown.board.id}`}>Tried in the hilt</PageLink>
              {chosen.boardId !== shown.board.id && (
                <Button variant="default" onClick={() => chosen.choose(shown.board.id)}>
                  Put it on the bench
                </Button>
              )}
            </div>
          </PageHead>
          {shown.board.source === 'workshop' ? <OwnBoard shown={shown} /> : <ShippedBoard shown={shown} />}
          <BoardRules boardId={shown.board.id} />
          <BoardVersions boardId={shown.board.id} />
        </div>
      )}
    </WhenLoaded>
  )
}

function ShippedBoard({ shown: { board, text } }: { readonly shown: Shown }) {
  return (
    <div className="make">
      <BoardWords board={board} />
      <section aria-label="As text" className="sheet-stack">
        <h2>As text</h2>
        <p className="quiet">A shipped board is never changed; make one of your own from it.</p>
        <pre className="board-text mono" tabIndex={0} aria-label="Text of the board file" role="region">
          {text}
        </pre>
      </section>
    </div>
  )
}

/** A board of the workshop: its words follow the text while it is edited. */
function OwnBoard({ shown }: { readonly shown: Shown }) {
  const edit = useBoardEdit(shown.board.id, shown.text)
  const tested = useTestedBoard(edit.text)
  const read = tested.state === 'ready' ? tested.value.board : null
  return (
    <div className="make">
      <BoardWords board={read ?? shown.board} />
      <section aria-label="As text" className="sheet-stack">
        <h2>As text</h2>
        <BoardEditor boardId={shown.board.id} kept={shown.text} edit={edit} tested={tested} />
      </section>
    </div>
  )
}
