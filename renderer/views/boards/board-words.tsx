import type { ResponseOf } from '../../../app/contract/calls.ts'
import { KnownMark } from './known-mark.tsx'

/** What a board accepts, one limit a line, each with how it is known. */
export function BoardWords({ board }: { readonly board: ResponseOf<'boards:show'>['board'] }) {
  return (
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
                <KnownMark known={known} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
