import { Note } from './note.tsx'

/** What to mind before a card goes into a hilt, shown where a card has just been made. */
export function CardCautions() {
  return (
    <Note tone="care" title="Before the card goes into the hilt">
      <ul>
        <li>
          Take the cell out before the card goes in or out, and before you connect USB, unless the board's
          maker says otherwise.
        </li>
        <li>Writing the image overwrites the whole card: look twice at the name of the drive.</li>
        <li>Play it quietly the first time: a raised level can hurt, and can destroy a small speaker.</li>
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
