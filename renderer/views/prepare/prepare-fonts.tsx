import { Button } from '@mantine/core'
import { useState } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import type { Build } from '../../../app/model/records.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { fontInWords } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'
import { ProgressLine } from '../../elements/progress-line.tsx'
import { VerdictMark } from '../../elements/verdict-mark.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { usePreparing, type PrepareRequest } from '../../hooks/use-preparing.ts'
import type { FontRow } from '../fonts/font-row.ts'
import { KeptChoices } from './kept-choices.tsx'
import { PrepareFor, type SpeakerChoice } from './prepare-for.tsx'
import { PrepareReportView } from './prepare-report.tsx'
import { PrepareRun } from './prepare-run.tsx'

interface PrepareFontsProps {
  readonly title: string
  /** The window finds a run again by it. */
  readonly rememberedAs: string
  readonly build: Build | undefined
  readonly editionIds: readonly string[]
  readonly startBoardId: string
  readonly boards: ResponseOf<'boards:list'>['boards']
}

/** From a dry run to prepared sounds: board and speaker, what would be done, one's own words on it, the run. */
export function PrepareFonts(props: PrepareFontsProps) {
  const { title, rememberedAs, build, editionIds, startBoardId, boards } = props
  const [boardId, setBoardId] = useState(startBoardId)
  const [speaker, setSpeaker] = useState<SpeakerChoice>({ kind: 'records' })
  const preparing = usePreparing(rememberedAs)
  const { report, running, error } = preparing
  // A build stands for its fonts in their order; its own speaker is then known.
  const selection: PrepareRequest =
    build === undefined ? { boardId, editionIds: [...editionIds] } : { boardId, buildCode: build.code }
  const rows = valueOr(useAsk('fonts:list', { boardId }), undefined)?.fonts ?? []
  const choices = valueOr(useAsk('prepare:choices', selection), undefined)?.choices ?? []
  const isSpeakerKnown = speaker.kind !== 'own' || speaker.lowLimitHz !== null
  const fonts = editionIds.flatMap((id) => rows.find((row) => row.id === id) ?? [])

  function requestWith(more: Partial<PrepareRequest>): PrepareRequest {
    return {
      ...selection,
      ...(speaker.kind === 'none' ? { speakerLowLimitHz: null } : {}),
      ...(speaker.kind === 'own' ? { speakerLowLimitHz: speaker.lowLimitHz } : {}),
      ...more,
    }
  }
  const dryRun = () => preparing.start(requestWith({ dryRun: true }))

  return (
    <>
      <section className="sheet sheet-stack" aria-label="What is prepared">
        <FontNames rows={fonts} />
        <PrepareFor
          boards={boards}
          boardId={boardId}
          onBoard={(next) => {
            setBoardId(next)
            preparing.forget()
          }}
          speaker={speaker}
          onSpeaker={(next) => {
            setSpeaker(next)
            preparing.forget()
          }}
          buildLimitHz={build?.speakerLowLimitHz ?? null}
        />
        <div className="row">
          <Button disabled={!isSpeakerKnown || running !== null} onClick={dryRun}>
            Dry run
          </Button>
          <span className="quiet">Tells what would be done to each sound, and makes nothing.</span>
        </div>
      </section>
      <KeptChoices
        boardId={boardId}
        choices={choices}
        fontNames={new Map(fonts.map((row) => [row.id, fontInWords(row.font.name, row.version)]))}
        onTakenBack={() => report !== null && dryRun()}
      />
      {running !== null && (
        <section className="sheet sheet-stack" aria-label="Under way">
          <ProgressLine name={`Prepare ${title}`} progress={running.progress} />
          <div>
            <Button variant="default" onClick={running.cancel}>
              Cancel
            </Button>
          </div>
        </section>
      )}
      {error !== null && <ErrorNote error={error} />}
      {report !== null && <PrepareReportView report={report} choices={choices} onChosen={dryRun} />}
      {report === null && running === null && (
        <Note tone="unknown" title="Begin with a dry run">
          It shows what is wrong with each sound, what would be done about it, and what would come of it. Any
          step can be changed or left out before a sound is made.
        </Note>
      )}
      <PrepareRun
        isRunning={running !== null}
        canRun={isSpeakerKnown}
        onRun={(places) => preparing.start(requestWith(places))}
      />
    </>
  )
}

function FontNames({ rows }: { readonly rows: readonly FontRow[] }) {
  return (
    <ul className="choice-list" aria-label="Fonts">
      {rows.map((row) => (
        <li key={row.id}>
          <strong className="break">{fontInWords(row.font.name, row.version)}</strong>
          {row.verdict !== null && (
            <span>
              <VerdictMark verdict={row.verdict} prepared={row.preparedVerdict} />
            </span>
          )}
        </li>
      ))}
    </ul>
  )
}
