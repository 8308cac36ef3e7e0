import { Button, Select } from '@mantine/core'
import { useMemo } from 'react'
import type { Build } from '../../../app/model/records.ts'
import { fontInWords } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'
import { OrderedFonts, type OrderedFont } from '../../elements/ordered-fonts.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { VerdictMark } from '../../elements/verdict-mark.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useCardDraft } from '../../hooks/use-card-draft.tsx'
import { AddFont } from '../builds/add-font.tsx'
import type { FontRow } from '../fonts/font-row.ts'
import type { Card } from './card-of.ts'
import { useCardSize } from './use-card-size.ts'

interface CardFontsProps {
  readonly card: Card
  readonly builds: readonly Build[]
  readonly rows: readonly FontRow[]
}

const BY_HAND = ''

/** What goes on the card, in play order: the fonts of a build, or fonts chosen by hand. */
export function CardFonts({ card, builds, rows }: CardFontsProps) {
  const { draft, change } = useCardDraft()
  const isByHand = card.build === undefined
  const told = useMemo(() => new Map(rows.map((row) => [row.id, toldFont(row)])), [rows])
  const firstNumber = valueOr(useCardSize(card), undefined)?.fonts[0]?.slot ?? 1
  return (
    <section className="sheet sheet-stack" aria-label="What goes on the card">
      <h2>What goes on the card</h2>
      <Select
        label="For"
        data={[
          { value: BY_HAND, label: 'Fonts chosen by hand' },
          ...builds.map((build) => ({
            value: build.code,
            label:
              build.clientLabel === '' ? `Build ${build.code}` : `Build ${build.code} · ${build.clientLabel}`,
          })),
        ]}
        value={card.build?.code ?? BY_HAND}
        onChange={(next) => change({ buildCode: next === BY_HAND ? null : next, accepted: [] })}
        allowDeselect={false}
      />
      <p className="quiet">
        For the board <span className="mono">{card.boardId}</span>
        {isByHand ? ', the one on the bench.' : ', which the build names.'}
      </p>
      {card.fonts.length === 0 ? (
        <p>Nothing yet. Add fonts here, or tick them in the list of fonts.</p>
      ) : (
        <OrderedFonts
          name="Fonts on the card, in play order"
          firstNumber={firstNumber}
          fonts={card.fonts.flatMap((row) => told.get(row.id) ?? [])}
          {...(isByHand
            ? {
                onChange: (editionIds: readonly string[]) =>
                  // The same fonts in another order have the same findings.
                  change(
                    editionIds.length === card.fonts.length ? { editionIds } : { editionIds, accepted: [] },
                  ),
              }
            : {})}
        />
      )}
      {card.build !== undefined && card.build.fontEditionIds.length > card.fonts.length && (
        <Note tone="care" title="A font of this build is no longer in the library">
          Scan the place where it lies, or take it out of the build.
        </Note>
      )}
      {card.build === undefined ? (
        <>
          <AddFont
            rows={rows}
            chosen={draft.editionIds}
            onAdd={(editionId) => change({ editionIds: [...draft.editionIds, editionId], accepted: [] })}
          />
          {card.fonts.length > 0 && (
            <div>
              <Button variant="default" size="sm" onClick={() => change({ editionIds: [], accepted: [] })}>
                Take all off
              </Button>
            </div>
          )}
        </>
      ) : (
        <div>
          <PageLink to={`/builds/${card.build.id}`}>Change the build</PageLink>
        </div>
      )}
    </section>
  )
}

function toldFont(row: FontRow): OrderedFont {
  return {
    editionId: row.id,
    name: fontInWords(row.font.name, row.version),
    beside: row.verdict && <VerdictMark verdict={row.verdict} prepared={row.preparedVerdict} />,
  }
}
