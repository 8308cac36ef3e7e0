import { inUnits } from '../../../app/model/in-units.ts'
import { momentInWords } from '../../elements/in-words.ts'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'

/** Every content that was made, the newest first, each with a way to prove what is on a card. */
export function CardsPage() {
  const contents = useAsk('contents:list', {})
  return (
    <div className="page-stack">
      <PageHead title="Cards" about="What was made, and proof of what is on a card">
        <PageLink to="/cards/verify">Verify an image or folder</PageLink>
        <PageLink to="/cards/make" isMain>
          Make a card
        </PageLink>
      </PageHead>
      <WhenLoaded loaded={contents} what="cards">
        {(value) =>
          value.contents.length === 0 ? (
            <p className="quiet">No card has been made yet.</p>
          ) : (
            <div className="table-frame">
              <table className="table">
                <thead>
                  <tr>
                    <th>Fingerprint</th>
                    <th className="number">Made</th>
                    <th>Build</th>
                    <th>Board</th>
                    <th className="number">Image</th>
                    <th>Fonts, in play order</th>
                    <th>
                      <span className="only-heard">Acts</span>
                    </th>
                  </tr>
                </thead>
                <tbody>
                  {[...value.contents]
                    .sort((a, b) => b.createdAt.localeCompare(a.createdAt))
                    .map((content) => (
                      <tr key={content.fingerprint}>
                        <td className="name mono">{content.fingerprint}</td>
                        <td className="number">{momentInWords(content.createdAt)}</td>
                        <td>{content.build ?? '–'}</td>
                        <td className="mono">{content.board}</td>
                        <td className="number">{inUnits(content.imageBytes)}</td>
                        <td>{content.fonts.map((font, index) => `${index + 1} ${font}`).join(', ')}</td>
                        <td>
                          <PageLink to={`/cards/verify/${content.fingerprint}`}>
                            Verify<span className="only-heard"> against {content.fingerprint}</span>
                          </PageLink>
                        </td>
                      </tr>
                    ))}
                </tbody>
              </table>
            </div>
          )
        }
      </WhenLoaded>
    </div>
  )
}
