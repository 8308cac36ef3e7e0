import { memo } from 'react'
import { Link } from 'wouter'
import type { Finding } from '../../../app/model/finding.ts'
import { FindingsList } from '../../elements/findings-list.tsx'
import { counted, fontInWords } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useCardDraft, type Accepted } from '../../hooks/use-card-draft.tsx'
import { useCheckedCard, type CheckedFont } from '../../hooks/use-checked-card.ts'
import { AcceptFinding } from './accept-finding.tsx'
import type { Card } from './card-of.ts'

/** What stands in the way of this card, and what will sound badly; each with its mend. */
export const CardFindings = memo(function CardFindings({ card }: { readonly card: Card }) {
  const checked = useCheckedCard({ ...card.selection, asPrepared: true })
  const { accepted } = useCardDraft().draft
  return (
    <section className="sheet sheet-stack" aria-label="What was found">
      <h2>What was found</h2>
      <WhenLoaded loaded={checked} what="findings">
        {({ fonts, cardFindings }) => {
          const inTheWay = fonts.filter((font) => font.verdict.word !== 'ready')
          const ready = fonts.filter((font) => font.verdict.word === 'ready')
          return (
            <>
              {inTheWay.length === 0 ? (
                <Note tone="good" title="Nothing stands in the way." role="status" />
              ) : (
                <Note
                  tone="bad"
                  title={`Not ready for the board: ${counted(inTheWay.length, 'font')}.`}
                  role="status"
                >
                  Mend what is listed, leave the font out, or accept a finding with a reason, which the record
                  keeps. <Link href="/fonts/prepare/card">Prepare these fonts</Link> to have mended what can
                  be.
                </Note>
              )}
              {cardFindings.length > 0 && (
                <div>
                  <h3>The card as a whole</h3>
                  <FindingsToAccept findings={cardFindings} accepted={accepted} />
                </div>
              )}
              {inTheWay.map((font) => (
                <FontInTheWay key={font.editionId} font={font} accepted={accepted} />
              ))}
              {ready.map((font) => (
                <FontWarnings key={font.editionId} font={font} />
              ))}
            </>
          )
        }}
      </WhenLoaded>
    </section>
  )
})

interface FontFoundProps {
  readonly font: CheckedFont
}

/** A font with hundreds of findings is drawn anew only where one of them has changed, not at every move. */
const FontInTheWay = memo(function FontInTheWay({
  font,
  accepted,
}: FontFoundProps & { accepted: readonly Accepted[] }) {
  return (
    <div>
      <h3>{fontInWords(font.font, font.version)}</h3>
      <FindingsToAccept
        findings={font.findings.filter((finding) => finding.severity === 'error')}
        accepted={accepted}
      />
    </div>
  )
})

const FontWarnings = memo(function FontWarnings({ font }: FontFoundProps) {
  const told = font.findings.filter((finding) => finding.severity === 'warning')
  if (told.length === 0) return null
  return (
    <details>
      <summary>
        {fontInWords(font.font, font.version)}: {counted(told.length, 'warning')}
      </summary>
      <FindingsList findings={told} />
    </details>
  )
})

interface FindingsToAcceptProps {
  readonly findings: readonly Finding[]
  readonly accepted: readonly Accepted[]
}

function FindingsToAccept({ findings, accepted }: FindingsToAcceptProps) {
  const act = (finding: Finding) =>
    finding.severity === 'error' ? <AcceptFinding finding={finding} accepted={accepted} /> : null
  return <FindingsList findings={findings} act={act} />
}
