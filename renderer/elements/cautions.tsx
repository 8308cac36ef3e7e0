import { Note } from './note.tsx'

interface CardCautionsProps {
  /** Whether an image was made, which is still to be written to a card. */
  readonly ofImage: boolean
}

/** What to mind before a card goes into a hilt, shown where a card has just been made. */
export function CardCautions({ ofImage }: CardCautionsProps) {
  return (
    <Note tone="care" title="Before the card goes into the hilt">
      <ul>
        <li>{CELL_OUT}</li>
        {ofImage && (
          <li>Writing the image overwrites the whole card: look twice at the name of the drive.</li>
        )}
        <li>Play it quietly the first time: a raised level can hurt, and can destroy a small speaker.</li>
      </ul>
    </Note>
  )
}

/** Said before a card is written, too: it has just been taken out of something. */
export const CELL_OUT =
  "Take the cell out before the card goes in or out, and before you connect USB, unless the board's maker says otherwise."

/** What is to be known of sounds that were prepared; nothing where there is nothing. */
export function PreparingCautions({ cautions }: { readonly cautions: readonly string[] }) {
  if (cautions.length === 0) return null
  return (
    <Note tone="care" title="Mind this of prepared sounds">
      <ul>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </Note>
  )
}

export function LicenceCaution() {
  return (
    <p className="quiet">
      A record, not legal advice. Music and voices may need rights beyond the font's licence.
    </p>
  )
}
