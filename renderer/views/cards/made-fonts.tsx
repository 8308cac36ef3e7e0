import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { PreparingCautions } from '../../elements/cautions.tsx'
import { counted, fontInWords } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'

type MadeFontsProps = Pick<ResponseOf<'make'>, 'fonts' | 'withoutLicence' | 'cautions' | 'kept'>

/** Fonts of a card that was just made as the board counts them; those without a licence on record; what was kept. */
export function MadeFonts({ fonts, withoutLicence, cautions, kept }: MadeFontsProps) {
  return (
    <>
      <ol className="order order-fixed" aria-label="Fonts as the board counts them">
        {fonts.map((font) => (
          <li key={font.folder}>
            <span className="number">{font.slot}</span>
            <span className="order-font">
              <strong>{fontInWords(font.font, font.version)}</strong>
              <span className="mono quiet">{font.folder}</span>
            </span>
          </li>
        ))}
      </ol>
      {withoutLicence.length > 0 && (
        <Note tone="care" title="Without a licence on record">
          {withoutLicence.join(', ')}. The card was made all the same, and its record says so.
        </Note>
      )}
      <PreparingCautions cautions={cautions} />
      {kept.files > 0 && (
        <p className="quiet">
          Kept in the workshop, so that it can be made again without the download:{' '}
          {counted(kept.files, 'original')}, {inUnits(kept.bytes)}.
        </p>
      )}
      {kept.problems.length > 0 && (
        <Note tone="care" title="Not kept">
          <ul>
            {kept.problems.map((problem) => (
              <li key={problem}>{problem}</li>
            ))}
          </ul>
        </Note>
      )}
    </>
  )
}
