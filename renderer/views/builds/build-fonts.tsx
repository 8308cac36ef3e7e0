import { useMemo } from 'react'
import { OrderedFonts, type OrderedFont } from '../../elements/ordered-fonts.tsx'
import { fontInWords } from '../../elements/in-words.ts'
import { useCardDraft } from '../../hooks/use-card-draft.tsx'
import { CardCapacity } from '../cards/card-capacity.tsx'
import { cardOf } from '../cards/card-of.ts'
import type { FontRow } from '../fonts/font-row.ts'
import { AddFont } from './add-font.tsx'

interface BuildFontsProps {
  readonly boardId: string
  readonly editionIds: readonly string[]
  readonly rows: readonly FontRow[]
  readonly onChange: (editionIds: readonly string[]) => void
}

/** The fonts of a build in play order, and what they take of a card as they stand, kept or not. */
export function BuildFonts({ boardId, editionIds, rows, onChange }: BuildFontsProps) {
  const { draft } = useCardDraft()
  const told = useMemo(
    () =>
      new Map<string, OrderedFont>(
        rows.map(({ id, font, version }) => [
          id,
          { editionId: id, name: fontInWords(font.name, version), beside: null },
        ]),
      ),
    [rows],
  )
  const card = cardOf({ ...draft, editionIds }, undefined, rows, boardId)
  return (
    <>
      <h2>Fonts, in play order</h2>
      {editionIds.length > 0 && (
        <OrderedFonts
          name="Fonts of the build, in play order"
          fonts={editionIds.map(
            (editionId) => told.get(editionId) ?? { editionId, name: 'A font that is gone', beside: null },
          )}
          onChange={onChange}
        />
      )}
      <AddFont rows={rows} chosen={editionIds} onAdd={(editionId) => onChange([...editionIds, editionId])} />
      {card.fonts.length > 0 && boardId !== '' && (
        <>
          <CardCapacity card={card} />
          <p className="quiet">
            Of the fonts alone; the page that makes the card counts the config and single sounds as well.
          </p>
        </>
      )}
    </>
  )
}
