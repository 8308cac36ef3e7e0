import { Button } from '@mantine/core'
import type { Knowledge } from '../../../app/model/board.ts'
import { PageHead } from '../../elements/page-head.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'

const TONES: Readonly<Record<Knowledge, string>> = {
  stated: 'tone-good',
  'seen playing': 'tone-good',
  'seen failing': 'tone-care',
  unknown: 'tone-unknown',
}

/** A board in words, each limit with how it is known, and as the text of its file. */
export function BoardPage({ boardId }: { readonly boardId: string }) {
  const loaded = useAsk('boards:show', { boardId })
  const chosen = useChosenBoard()
  return (
    <WhenLoaded loaded={loaded} what="the board">
      {({ board, text }) => (
        <div className="page-stack">
          <PageHead title={board.title} about={board.notes}>
            {chosen.boardId !== board.id && (
              <Button variant="default" onClick={() => chosen.choose(board.id)}>
                Put it on the bench
              </Button>
            )}
          </PageHead>
          <div className="make">
            <section aria-label="In words" className="table-frame">
              <table className="table">
                <thead>
                  <tr>
                    <th>What it accepts</th>
                    <th>How it is known</th>
                  </tr>
                </thead>
                <tbody>
                  {board.inWords.map(({ limit, words, known }) => (
                    <tr key={`${limit} ${words}`}>
                      <td>
                        {words}
                        <div className="mono quiet break">{limit}</div>
                      </td>
                      <td>
                        <span className={`mark ${TONES[known]}`}>{known}</span>
                      </td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </section>
            <section aria-label="As text" className="sheet-stack">
              <h2>As text</h2>
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
