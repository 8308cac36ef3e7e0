import { useDeferredValue, useMemo } from 'react'
import type { Build } from '../../../app/model/records.ts'
import { PageHead } from '../../elements/page-head.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'
import { useCardDraft } from '../../hooks/use-card-draft.tsx'
import type { FontRow } from '../fonts/font-row.ts'
import { CardFonts } from './card-fonts.tsx'
import { CardFindings } from './card-findings.tsx'
import { CardCapacity } from './card-capacity.tsx'
import { CardsPlaces } from './cards-places.tsx'
import { FormChoice } from './form-choice.tsx'
import { MakeImage } from './make-image.tsx'
import { MakeInto } from './make-into.tsx'
import { cardOf, type Card } from './card-of.ts'

/** From chosen fonts or a build to a verified card: what goes on, what it takes, what stands in the way. */
export function MakePage() {
  const { boardId } = useChosenBoard()
  const { draft } = useCardDraft()
  const builds = useAsk('builds:list', {})
  const build =
    builds.state === 'ready' ? builds.value.builds.find((each) => each.code === draft.buildCode) : undefined
  // A build names its own board; fonts chosen by hand are for the one on the bench.
  const cardBoardId = build?.boardId ?? boardId
  const fonts = useAsk('fonts:list', cardBoardId === undefined ? null : { boardId: cardBoardId })
  return (
    <div className="page-stack">
      <CardsPlaces />
      <PageHead
        title="Make a card"
        about="Choose what goes on, see what it takes, write it and have it proved"
      />
      <WhenLoaded loaded={builds} what="builds">
        {({ builds: list }) => (
          <WhenLoaded loaded={fonts} what="fonts">
            {({ fonts: rows, board }) => (
              <CardToMake builds={list} build={build} rows={rows} boardId={board ?? ''} />
            )}
          </WhenLoaded>
        )}
      </WhenLoaded>
    </div>
  )
}

interface CardToMakeProps {
  readonly builds: readonly Build[]
  readonly build: Build | undefined
  readonly rows: readonly FontRow[]
  readonly boardId: string
}

function CardToMake({ builds, build, rows, boardId }: CardToMakeProps) {
  const { draft, change } = useCardDraft()
  // The same object until it is another card: what is drawn of it is then left as it is.
  const card = useMemo(() => cardOf(draft, build, rows, boardId), [draft, build, rows, boardId])
  return (
    <div className="make">
      <CardFonts card={card} builds={builds} rows={rows} />
      <div className="sheet-stack">
        <CardFigures card={card} />
        {card.fonts.length > 0 && (
          <>
            <FormChoice form={draft.form} onChange={(form) => change({ form })} />
            {draft.form === 'image' ? <MakeImage card={card} /> : <MakeInto card={card} />}
          </>
        )}
      </div>
    </div>
  )
}

/** What the card takes and what was found: drawn after the list that was just changed, never before. */
function CardFigures({ card }: { readonly card: Card }) {
  const settled = useDeferredValue(card)
  return (
    <>
      <CardCapacity card={settled} />
      {settled.fonts.length > 0 && <CardFindings key={settled.key} card={settled} />}
    </>
  )
}
