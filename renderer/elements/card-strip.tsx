import { memo, useId, useRef, useState, type KeyboardEvent, type ReactNode } from 'react'
import { inUnits } from '../../app/model/in-units.ts'
import { bandClass } from './band-class.ts'
import { counted } from './in-words.ts'
import { enlargement, stripShares, type Stretch } from './strip-bands.ts'

/** A stretch with what is told of it when it is pointed at. */
export interface ToldStretch extends Stretch {
  readonly told: string
}

interface CardStripProps {
  /** In play order; together they are what is used. */
  readonly stretches: readonly ToldStretch[]
  readonly freeBytes: number
  /** 0 where it fits. */
  readonly missingBytes: number
}

/** From here on bands stand without gaps, which would be wider than they. */
const MANY = 24

/**
 * The card as one strip in play order: a band a font, as wide as its bytes, free space at the end. Where
 * the fonts fill little of it, they are drawn once more enlarged. Its fonts are also a row of buttons
 * under it, one stop for the keyboard, the arrow keys within.
 */
export function CardStrip({ stretches, freeBytes, missingBytes }: CardStripProps) {
  const [chosenId, setChosenId] = useState<string | null>(null)
  const shares = stripShares(stretches, freeBytes, missingBytes)
  const times = enlargement(shares)
  const usedBytes = stretches.reduce((sum, stretch) => sum + stretch.usedBytes, 0)
  const fonts = stretches.filter(({ number }) => number !== null)
  const words = `${inUnits(usedBytes)} used by ${counted(fonts.length, 'font')}`
  const label =
    missingBytes > 0
      ? `Too full: ${words}, ${inUnits(missingBytes)} more than the card holds`
      : `${words}, ${inUnits(freeBytes)} free`
  const bands = stretches.map((stretch, index) => (
    <Band
      key={stretch.id}
      id={stretch.id}
      number={stretch.number}
      name={stretch.name}
      index={index}
      share={shares.stretches[index] ?? 0}
      isChosen={stretch.id === chosenId}
      onChoose={setChosenId}
    />
  ))

  return (
    <div className="card-strip" data-many={stretches.length > MANY ? true : undefined}>
      <div className="strip" role="img" aria-label={label}>
        <div className="strip-inside">
          <span
            className={times === null ? 'strip-used' : 'strip-used strip-small'}
            style={{ flexGrow: shares.used }}
          >
            {bands}
          </span>
          {freeBytes > 0 && (
            <span className="strip-free" style={{ flexGrow: shares.free }}>
              <span>{inUnits(freeBytes)} free</span>
            </span>
          )}
          {missingBytes > 0 && (
            <span className="strip-over" style={{ left: `${shares.cardEnd * 100}%` }}>
              <span>The card ends here</span>
            </span>
          )}
        </div>
      </div>
      {times !== null && (
        <div className="strip-lens" aria-hidden="true">
          <svg viewBox="0 0 100 10" preserveAspectRatio="none">
            <path d={`M0 0H${shares.used * 100}L100 10H0Z`} />
          </svg>
          <div className="strip-inside">
            <span className="strip-used">{bands}</span>
          </div>
          <p className="quiet">What is on it, enlarged {times.toLocaleString('en')} times</p>
        </div>
      )}
      <StripKey stretches={stretches} chosenId={chosenId} onChoose={setChosenId} />
    </div>
  )
}

/** Plain values, so that a band of hundreds is drawn anew only where something about it has changed. */
interface BandProps {
  readonly id: string
  readonly number: number | null
  readonly name: string
  readonly index: number
  readonly share: number
  readonly isChosen: boolean
  readonly onChoose: (id: string) => void
}

/** For the pointer; the key under the strip is for everybody. */
const Band = memo(function Band({
  id,
  number,
  name,
  index,
  share,
  isChosen,
  onChoose,
}: BandProps): ReactNode {
  if (share <= 0) return null
  return (
    <span
      className={`strip-band ${number === null ? 'band-rest' : bandClass(index)}`}
      style={{ flexGrow: share }}
      data-chosen={isChosen ? true : undefined}
      title={number === null ? name : `${number} ${name}`}
      onClick={() => onChoose(id)}
    >
      {number !== null && <span className="strip-number number">{number}</span>}
    </span>
  )
})

interface StripKeyProps {
  readonly stretches: readonly ToldStretch[]
  readonly chosenId: string | null
  readonly onChoose: (id: string) => void
}

function StripKey({ stretches, chosenId, onChoose }: StripKeyProps) {
  const told = useId()
  const row = useRef<HTMLDivElement>(null)
  const chosen = stretches.find(({ id }) => id === chosenId)
  const stopId = chosen?.id ?? stretches[0]?.id

  function step(event: KeyboardEvent): void {
    const at = stretches.findIndex(({ id }) => id === stopId)
    const to = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: stretches.length - 1 }[event.key]
    const next = to === undefined ? undefined : stretches[to]
    if (to === undefined || next === undefined || event.altKey) return
    event.preventDefault()
    onChoose(next.id)
    ;(row.current?.children[to] as HTMLElement | undefined)?.focus()
  }

  return (
    <>
      <div
        className="strip-key"
        role="toolbar"
        aria-label="What is on the card, in play order"
        ref={row}
        onKeyDown={step}
      >
        {stretches.map((stretch, index) => (
          <KeyFont
            key={stretch.id}
            id={stretch.id}
            number={stretch.number}
            name={stretch.name}
            usedBytes={stretch.usedBytes}
            index={index}
            isStop={stretch.id === stopId}
            isChosen={stretch.id === chosenId}
            toldId={told}
            onChoose={onChoose}
          />
        ))}
      </div>
      {chosen !== undefined && (
        <p className="strip-told break" id={told}>
          {chosen.told}
        </p>
      )}
    </>
  )
}

interface KeyFontProps extends Omit<BandProps, 'share'> {
  readonly usedBytes: number
  /** Whether Tab stops here. */
  readonly isStop: boolean
  /** Id of the element that tells of the chosen one. */
  readonly toldId: string
}

const KeyFont = memo(function KeyFont(props: KeyFontProps) {
  const { id, number, name, usedBytes, index, isStop, isChosen, toldId, onChoose } = props
  return (
    <button
      type="button"
      className="strip-key-font"
      tabIndex={isStop ? 0 : -1}
      aria-pressed={isChosen}
      aria-describedby={isChosen ? toldId : undefined}
      onClick={() => onChoose(id)}
    >
      <span className={`swatch ${number === null ? 'band-rest' : bandClass(index)}`} aria-hidden="true" />
      {number !== null && <span className="number">{number}</span>}
      <span>{name}</span>
      <span className="quiet number">{inUnits(usedBytes)}</span>
    </button>
  )
})
