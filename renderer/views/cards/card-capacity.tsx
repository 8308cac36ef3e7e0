import { Select, TextInput } from '@mantine/core'
import { memo, useMemo, useState } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { wayInWords } from '../../../app/model/way-to-fit.ts'
import { CardStrip } from '../../elements/card-strip.tsx'
import { Note } from '../../elements/note.tsx'
import { inCurrentOrder } from '../../elements/strip-bands.ts'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useCardDraft } from '../../hooks/use-card-draft.tsx'
import type { Card } from './card-of.ts'
import { stretchesOfSize } from './card-stretches.ts'
import { useCardSize } from './use-card-size.ts'

const SOLD_SIZES = ['4GB', '8GB', '16GB', '32GB']
const AS_CONTENT = 'as-content'
const OTHER = 'other'

/** How large the card is, and how much of it each font takes, to the byte. */
export const CardCapacity = memo(function CardCapacity({ card }: { readonly card: Card }) {
  const { draft, change } = useCardDraft()
  const isListed = draft.cardSize === '' || SOLD_SIZES.includes(draft.cardSize)
  const [isOther, setIsOther] = useState(!isListed)
  return (
    <section className="sheet sheet-stack" aria-label="Capacity">
      <h2>Capacity</h2>
      <div className="row row-end">
        <Select
          label="Size of the card"
          data={[
            { value: AS_CONTENT, label: 'As its content needs' },
            ...SOLD_SIZES.map((size) => ({ value: size, label: size.replace('GB', ' GB, as printed') })),
            { value: OTHER, label: 'Another size' },
          ]}
          value={isOther ? OTHER : draft.cardSize === '' ? AS_CONTENT : draft.cardSize}
          onChange={(next) => {
            setIsOther(next === OTHER)
            if (next !== OTHER && next !== null) change({ cardSize: next === AS_CONTENT ? '' : next })
          }}
          allowDeselect={false}
          w="16rem"
        />
        {isOther && (
          <TextInput
            label="Size"
            description="16GB as printed; 512MiB or bytes exactly"
            value={draft.cardSize}
            error={card.isSizeUnread ? 'Write a number, then GB or MiB' : undefined}
            onChange={(event) => change({ cardSize: event.currentTarget.value })}
          />
        )}
        {card.size?.isAsSold === true && (
          <span className="quiet">Taken to hold 4 % less than is printed, since cards as sold differ.</span>
        )}
      </div>
      {card.fonts.length > 0 && !card.isSizeUnread && <Filled card={card} />}
    </section>
  )
})

function Filled({ card }: { readonly card: Card }) {
  return (
    <WhenLoaded loaded={useCardSize(card)} what="the size">
      {(report) => (
        <>
          <Strip card={card} report={report} />
          <Fit report={report} />
          <dl className="facts">
            <dt>Used</dt>
            <dd>
              {report.usedBytes.toLocaleString('en')} bytes, of which {inUnits(report.contentBytes)} are files
              and {inUnits(report.slackBytes)} are the unused ends of clusters
            </dd>
            <dt>Free</dt>
            <dd>{report.freeBytes.toLocaleString('en')} bytes</dd>
            <dt>Image</dt>
            <dd>
              {inUnits(report.imageBytes)}, {report.fileSystem.toUpperCase()} with clusters of{' '}
              {inUnits(report.clusterBytes)}
            </dd>
          </dl>
        </>
      )}
    </WhenLoaded>
  )
}

interface StripProps {
  readonly card: Card
  readonly report: ResponseOf<'size'>
}

function Strip({ card, report }: StripProps) {
  const answered = useMemo(() => stretchesOfSize(report), [report])
  const order = card.fonts.map((font) => font.id)
  return (
    <CardStrip
      stretches={inCurrentOrder(order, answered)}
      freeBytes={report.freeBytes}
      missingBytes={report.missingBytes}
    />
  )
}

/** What does not fit, with every way out; and what the board would be slow to open. */
function Fit({ report }: { readonly report: ResponseOf<'size'> }) {
  const { fits, missingBytes, waysToFit, readCost } = report
  return (
    <>
      {!fits && (
        <Note tone="bad" title={`It does not fit: ${inUnits(missingBytes)} are missing.`} role="alert">
          {waysToFit.length === 0 ? (
            'Leave a font out, or choose a larger card.'
          ) : (
            <>
              It would fit
              <ul>
                {waysToFit.map((way) => (
                  <li key={way.kind}>{wayInWords(way)}</li>
                ))}
              </ul>
            </>
          )}
        </Note>
      )}
      {readCost !== null && !readCost.isWithinLimit && (
        <Note tone="care" title="Slow to open" role="status">
          <span className="mono">{readCost.last.path}</span> costs {readCost.last.sectors} sectors, and the
          board stands {readCost.limitSectors}. Shorter names, or fewer files in{' '}
          <span className="mono">{readCost.folder}</span>, make it quicker.
        </Note>
      )}
    </>
  )
}
