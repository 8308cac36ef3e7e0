import { inUnits } from '../../app/model/in-units.ts'
import { bandClass } from './band-class.ts'

interface CardStripProps {
  /** In play order. */
  readonly fonts: readonly { readonly editionId: string; readonly name: string; readonly usedBytes: number }[]
  readonly usedBytes: number
  readonly freeBytes: number
  readonly fits: boolean
}

/** The card as one strip in play order: a band a font, as wide as its bytes, free space at the end. */
export function CardStrip({ fonts, usedBytes, freeBytes, fits }: CardStripProps) {
  const wholeBytes = Math.max(1, usedBytes + freeBytes)
  const words = `${inUnits(usedBytes)} used by ${fonts.length} fonts, ${inUnits(freeBytes)} free`
  return (
    <div className="sheet-stack">
      <div className="strip" role="img" aria-label={fits ? words : `Too full: ${words}`}>
        <div className="strip-inside">
          {fonts.map((font, index) => (
            <span
              key={font.editionId}
              className={`strip-band ${bandClass(index)}`}
              style={{ flexBasis: `${(font.usedBytes / wholeBytes) * 100}%` }}
            />
          ))}
          {fits && <span className="strip-free">{inUnits(freeBytes)} free</span>}
        </div>
      </div>
      <ol className="strip-key">
        {fonts.map((font, index) => (
          <li key={font.editionId}>
            <span className={`swatch ${bandClass(index)}`} aria-hidden="true" />
            <span className="number">{index + 1}</span> {font.name}
            <span className="quiet number">{inUnits(font.usedBytes)}</span>
          </li>
        ))}
      </ol>
    </div>
  )
}
