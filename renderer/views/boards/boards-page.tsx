import { Link } from 'wouter'
import { Note } from '../../elements/note.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'

export function BoardsPage() {
  const boards = useAsk('boards:list', {})
  return (
    <div className="page-stack">
      <PageHead title="Boards" about="What each board accepts, and how that is known">
        <PageLink to="/boards/make/new">Make a board</PageLink>
        <PageLink to="/boards/make/draft">Draft one from a card</PageLink>
        <PageLink to="/boards/compare/two">Compare two</PageLink>
        <PageLink to="/boards/check/card">Check a card</PageLink>
      </PageHead>
      <WhenLoaded loaded={boards} what="boards">
        {(value) => (
          <>
            {value.problems.length > 0 && (
              <Note tone="care" title="Board files that cannot be used">
                <ul>
                  {value.problems.map((problem) => (
                    <li key={problem} className="break">
                      {problem}
                    </li>
                  ))}
                </ul>
              </Note>
            )}
            <div className="choices">
              {value.boards.map((board) => (
                <section key={board.id} className="sheet sheet-stack" aria-label={board.title}>
                  <h2>
                    <Link href={`/boards/${board.id}`}>{board.title}</Link>
                  </h2>
                  <p className="quiet">
                    <span className="mono">{board.id}</span>,{' '}
                    {board.source === 'shipped'
                      ? 'an example that ships with Cardwright'
                      : 'from your workshop'}
                  </p>
                  <p>{board.notes}</p>
                </section>
              ))}
            </div>
          </>
        )}
      </WhenLoaded>
    </div>
  )
}
