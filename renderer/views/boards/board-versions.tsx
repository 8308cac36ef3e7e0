import { Link } from 'wouter'
import { momentInWords } from '../../elements/in-words.ts'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'

/** A board as it was each time that cards were made with it; nothing where none was. */
export function BoardVersions({ boardId }: { readonly boardId: string }) {
  const loaded = useAsk('boards:versions', { boardId })
  return (
    <WhenLoaded loaded={loaded} what="earlier versions">
      {({ versions }) =>
        versions.length === 0 ? null : (
          <section className="sheet-stack" aria-labelledby="board-versions">
            <h2 id="board-versions">As cards were made with it</h2>
            <div className="table-frame">
              <table className="table" aria-labelledby="board-versions">
                <thead>
                  <tr>
                    <th>Version</th>
                    <th>First used</th>
                    <th>Now</th>
                    <th>Cards</th>
                  </tr>
                </thead>
                <tbody>
                  {versions.map(({ hash, keptAt, isCurrent, cards }) => (
                    <tr key={hash}>
                      <td className="mono">
                        <Link href={`/boards/as-it-was/${hash}`}>{hash.slice(0, 12)}</Link>
                      </td>
                      <td>{momentInWords(keptAt)}</td>
                      <td>{isCurrent ? 'still so' : 'changed since'}</td>
                      <td>
                        {cards.length === 0 && 'none; sounds were prepared for it'}
                        {cards.map(({ fingerprint, builds }) => (
                          <div key={fingerprint}>
                            <Link href={`/cards/contents/${fingerprint}`} className="mono">
                              {fingerprint}
                            </Link>
                            {builds.length > 0 && ` for ${builds.join(', ')}`}
                          </div>
                        ))}
                      </td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </div>
          </section>
        )
      }
    </WhenLoaded>
  )
}
