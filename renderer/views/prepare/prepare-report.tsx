import { PreparingCautions } from '../../elements/cautions.tsx'
import { Note } from '../../elements/note.tsx'
import type { PrepareReport } from '../../hooks/use-preparing.ts'
import { EvennessFigure } from './evenness-figure.tsx'
import { PreparedFont } from './prepared-font.tsx'
import { countsInWords, heardInWords, type KeptChoice } from './prepared-in-words.ts'

interface PrepareReportProps {
  readonly report: PrepareReport
  /** The window remembers by it which fonts were opened. */
  readonly keptAs: string
  /** As they are kept now. */
  readonly choices: readonly KeptChoice[]
  readonly onChosen: () => void
}

/** What a run or dry run came to: what to mind, how even the fonts are, and each font sound by sound. */
export function PrepareReportView({ report, keptAs, choices, onChosen }: PrepareReportProps) {
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
        {!isRight && <p>Something is still wrong: it is told at its font and sound.</p>}
      </Note>
      <PreparingCautions cautions={cautions} />
      {fallBack !== null && (
        <Note tone="care" title="Not by the best means">
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
          keptAs={keptAs}
          isOpenAtFirst={fonts.length === 1}
          choices={choices}
          onChosen={onChosen}
        />
      ))}
    </section>
  )
}
