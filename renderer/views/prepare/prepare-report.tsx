import { memo } from 'react'
import { PreparingCautions } from '../../elements/cautions.tsx'
import { Note } from '../../elements/note.tsx'
import type { PrepareReport } from '../../hooks/use-preparing.ts'
import { EvennessFigure } from './evenness-figure.tsx'
import { PreparedFont } from './prepared-font.tsx'
import type { WrittenPlaces } from './prepare-places.tsx'
import { countsInWords, heardInWords, type KeptChoice } from './prepared-in-words.ts'

interface PrepareReportProps {
  readonly report: PrepareReport
  /** Where this run was to write besides the workshop. */
  readonly places: WrittenPlaces
  /** As they are kept now. */
  readonly choices: readonly KeptChoice[]
  readonly onChosen: () => void
}

/**
 * What a run or dry run came to: what to mind, how even the fonts are, and each font sound by sound. It may
 * be long, and is left as it is while the progress of the next run is told.
 */
export const PrepareReportView = memo(function PrepareReportView(props: PrepareReportProps) {
  const { report, places, choices, onChosen } = props
  const { fonts, dryRun, counts, cautions, fallBack, boardTitle } = report
  const isRight =
    counts.failed === 0 && (dryRun || fonts.every(({ verdictAfter }) => verdictAfter.word === 'ready'))
  return (
    <section className="sheet-stack" aria-label={dryRun ? 'Dry run' : 'What was prepared'}>
      <Note
        role="status"
        tone={dryRun ? 'unknown' : isRight ? 'good' : 'bad'}
        title={dryRun ? `Dry run for ${boardTitle}` : `Prepared for ${boardTitle}`}
      >
        <p>{countsInWords(report)}</p>
        <p>{heardInWords(report)}</p>
        {!dryRun && places.into !== '' && (
          <p>
            Fonts were written as folders into <span className="mono break">{places.into}</span>.
          </p>
        )}
        {!dryRun && places.reportPath !== '' && (
          <p>
            A page about it was written: <span className="mono break">{places.reportPath}</span>.
          </p>
        )}
        {!isRight && <p>Something is still wrong: it is told at its font and sound.</p>}
      </Note>
      <PreparingCautions cautions={cautions} />
      {fallBack !== null && (
        <Note tone="care" title="Something is missing on this computer">
          {fallBack}
        </Note>
      )}
      <div className="sheet">
        <h2>Evenness</h2>
        <EvennessFigure report={report} />
      </div>
      {fonts.map((font) => (
        <PreparedFont
          key={font.editionId}
          font={font}
          boardId={report.board}
          isDryRun={dryRun}
          isAlone={fonts.length === 1}
          choices={choices}
          onChosen={onChosen}
        />
      ))}
    </section>
  )
})
