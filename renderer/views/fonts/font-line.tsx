import { Checkbox } from '@mantine/core'
import { Link } from 'wouter'
import { inUnits } from '../../../app/model/in-units.ts'
import { Icon } from '../../elements/icon.tsx'
import { fontInWords } from '../../elements/in-words.ts'
import { VerdictMark } from '../../elements/verdict-mark.tsx'
import { useCardDraft } from '../../hooks/use-card-draft.tsx'
import { creatorOf, type FontRow } from './font-row.ts'

interface FontLineProps {
  readonly row: FontRow
  readonly index: number
  readonly top: number
}

/** One font of the list; ticked, it goes on the card that is being put together. */
export function FontLine({ row, index, top }: FontLineProps) {
  const { draft, change } = useCardDraft()
  const name = fontInWords(row.font.name, row.version)
  const isOnCard = draft.buildCode === null && draft.editionIds.includes(row.id)
  return (
    <div
      role="row"
      aria-rowindex={index + 2}
      data-index={index}
      className="fonts-row fonts-line"
      style={{ transform: `translateY(${top}px)` }}
    >
      <span role="cell">
        <Checkbox
          aria-label={`Put ${name} on the card`}
          checked={isOnCard}
          onChange={() => {
            const others = draft.buildCode === null ? draft.editionIds.filter((id) => id !== row.id) : []
            change({ buildCode: null, editionIds: isOnCard ? others : [...others, row.id] })
          }}
        />
      </span>
      <span role="cell" className="fonts-cell fonts-name">
        <Link href={`/fonts/${row.id}`}>{row.font.name}</Link> <span className="quiet">{row.version}</span>
        {row.state === 'gone' && <span className="mark-counts">gone from its place</span>}
      </span>
      <span role="cell" className="fonts-cell">
        {row.font.creatorName === null && row.font.proposedCreatorName !== null ? (
          <span className="proposed" title="As its folder says; set it on the font's page">
            {row.font.proposedCreatorName}
            <span className="only-heard"> (as its folder says)</span>
          </span>
        ) : (
          creatorOf(row) || '–'
        )}
      </span>
      <span role="cell" className="fonts-cell">
        {row.verdict === null ? '–' : <VerdictMark verdict={row.verdict} prepared={row.preparedVerdict} />}
      </span>
      <span role="cell" className="number">
        {row.soundCount}
      </span>
      <span role="cell" className="number">
        {inUnits(row.sizeBytes)}
      </span>
      <span role="cell" className="fonts-cell">
        {row.licenceCount === 0 ? (
          <span className="mark tone-care">
            <Icon name="warning" />
            none
          </span>
        ) : (
          <span className="row">
            <Icon name="licence" /> {row.licenceCount} on record
          </span>
        )}
      </span>
    </div>
  )
}
