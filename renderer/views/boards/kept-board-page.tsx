import type { ResponseOf } from '../../../app/contract/calls.ts'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { BoardDifferences } from './board-differences.tsx'
import { BoardWords } from './board-words.tsx'

/** A board as it was when a card was made with it, and what has changed since. */
export function KeptBoardPage({ hash }: { readonly hash: string }) {
  const loaded = useAsk('boards:show', { boardId: hash })
  return (
    <WhenLoaded loaded={loaded} what="the board as it was">
      {({ board, text }) => (
        <div className="page-stack">
          <PageHead
            title={`${board.title}, as it was`}
            about={<span className="mono break">{board.hash}</span>}
          >
            <PageLink to={`/boards/${board.id}`}>The board as it is now</PageLink>
          </PageHead>
          <Since board={board} hash={hash} />
          <div className="make">
            <BoardWords board={board} />
            <section aria-label="As text" className="sheet-stack">
              <h2>As text</h2>
              <p className="quiet">Kept with the cards that were made with it; it never changes.</p>
              <pre className="board-text mono" tabIndex={0} aria-label="Text of the board file" role="region">
                {text}
              </pre>
            </section>
          </div>
        </div>
      )}
    </WhenLoaded>
  )
}

interface SinceProps {
  readonly board: ResponseOf<'boards:show'>['board']
  readonly hash: string
}

/** What has changed since, where the board is still there. */
function Since({ board, hash }: SinceProps) {
  const boards = valueOr(useAsk('boards:list', {}), undefined)?.boards
  const isThere = boards?.some(({ id }) => id === board.id) === true
  const diff = useAsk('boards:diff', isThere ? { boardIdA: hash, boardIdB: board.id } : null)
  if (boards === undefined) return null
  if (!isThere) return <p role="status">The workshop no longer has a board of the id {board.id}.</p>
  return (
    <section className="sheet sheet-stack" aria-labelledby="since">
      <h2 id="since">What has changed since</h2>
      <WhenLoaded loaded={diff} what="differences">
        {({ differences }) => (
          <BoardDifferences
            titleA={`${board.title} then`}
            titleB={`${board.title} now`}
            differences={differences}
          />
        )}
      </WhenLoaded>
    </section>
  )
}
