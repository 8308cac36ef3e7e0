import { useId, useRef } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import type { Build } from '../../../app/model/records.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { fontInWords } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'
import { VerdictMark } from '../../elements/verdict-mark.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { useKept } from '../../hooks/use-kept.ts'
import { useSteady } from '../../hooks/use-steady.ts'
import { usePreparing, type PrepareRequest } from '../../hooks/use-preparing.ts'
import type { FontRow } from '../fonts/font-row.ts'
import { KeptChoices } from './kept-choices.tsx'
import { PrepareActs } from './prepare-acts.tsx'
import { PrepareFor, type SpeakerChoice } from './prepare-for.tsx'
import { PreparePlaces, type WrittenPlaces } from './prepare-places.tsx'
import { PrepareReportView } from './prepare-report.tsx'
import type { KeptChoice } from './prepared-in-words.ts'

interface PrepareFontsProps {
  readonly title: string
  /** The window finds a run and what was chosen for it again by it. */
  readonly rememberedAs: string
  readonly build: Build | undefined
  readonly editionIds: readonly string[]
  readonly startBoardId: string
  readonly boards: ResponseOf<'boards:list'>['boards']
}

const NO_CHOICES: readonly KeptChoice[] = []
const NO_PLACES: WrittenPlaces = { into: '', reportPath: '' }

/** What is told of a run is for this board and speaker alone: they are found again together with it. */
interface Wishes extends WrittenPlaces {
  readonly boardId: string
  readonly speaker: SpeakerChoice
}

/** From a dry run to prepared sounds: board and speaker, the acts, one's own words on steps, what came of it. */
export function PrepareFonts(props: PrepareFontsProps) {
  const { title, rememberedAs, build, editionIds, startBoardId, boards } = props
  const [asked, setAsked] = useKept<WrittenPlaces>(`cardwright-prepare-places ${rememberedAs}`, NO_PLACES)
  const [wishes, setWishes] = useKept<Wishes>(`cardwright-prepare-wishes ${rememberedAs}`, {
    boardId: startBoardId,
    speaker: { kind: 'records' },
    ...NO_PLACES,
  })
  const { speaker } = wishes
  // A board's file may have been taken away meanwhile.
  const boardId = boards.some(({ id }) => id === wishes.boardId) ? wishes.boardId : startBoardId
  const preparing = usePreparing(rememberedAs)
  const { report, running, error } = preparing
  const formId = useId()
  const acts = useRef<HTMLDivElement>(null)
  // A build stands for its fonts in their order; its own speaker is then known.
  const selection: PrepareRequest =
    build === undefined ? { boardId, editionIds: [...editionIds] } : { boardId, buildCode: build.code }
  const rows = valueOr(useAsk('fonts:list', { boardId }), undefined)?.fonts ?? []
  const choices = valueOr(useAsk('prepare:choices', selection), undefined)?.choices ?? NO_CHOICES
  const canRun = speaker.kind !== 'own' || speaker.lowLimitHz !== null
  const fonts = editionIds.flatMap((id) => rows.find((row) => row.id === id) ?? [])

  function start(more: Partial<PrepareRequest>): void {
    preparing.start({
      ...selection,
      ...(speaker.kind === 'none' ? { speakerLowLimitHz: null } : {}),
      ...(speaker.kind === 'own' ? { speakerLowLimitHz: speaker.lowLimitHz } : {}),
      ...more,
    })
  }
  const dryRun = useSteady(() => start({ dryRun: true }))

  function run(): void {
    if (!canRun || running !== null) return
    const [into, reportPath] = [wishes.into.trim(), wishes.reportPath.trim()]
    setAsked({ into, reportPath })
    start({ ...(into === '' ? {} : { into }), ...(reportPath === '' ? {} : { reportPath }) })
  }

  /** For another board or speaker all that was told is void. */
  function judgeAnew(change: Partial<Wishes>): void {
    setWishes({ ...wishes, boardId, ...change })
    preparing.forget()
  }

  return (
    <>
      <section className="sheet sheet-stack" aria-label="What is prepared">
        <FontNames rows={fonts} />
        <PrepareFor
          boards={boards}
          boardId={boardId}
          onBoard={(next) => judgeAnew({ boardId: next })}
          speaker={speaker}
          onSpeaker={(next) => judgeAnew({ speaker: next })}
          buildLimitHz={build?.speakerLowLimitHz ?? null}
          isFixed={running !== null}
        />
        <PreparePlaces
          formId={formId}
          places={wishes}
          onPlaces={({ into, reportPath }) => setWishes({ ...wishes, into, reportPath })}
          onRun={run}
        />
      </section>
      <PrepareActs
        place={acts}
        title={title}
        canRun={canRun}
        running={running}
        error={error}
        hasReport={report !== null}
        formId={formId}
        onDryRun={dryRun}
      />
      {error !== null && error.code !== 'cancelled' && <ErrorNote error={error} />}
      <KeptChoices
        boardId={boardId}
        choices={choices}
        fontNames={new Map(fonts.map((row) => [row.id, fontInWords(row.font.name, row.version)]))}
        onTakenBack={() => report !== null && dryRun()}
        onNoneLeft={() => acts.current?.querySelector('button')?.focus()}
      />
      {report !== null && (
        <PrepareReportView report={report} places={asked} choices={choices} onChosen={dryRun} />
      )}
      {report === null && running === null && (
        <Note tone="unknown" title="Begin with a dry run">
          It shows what is wrong with each sound, what would be done about it, and what would come of it. Any
          step can be changed or left out before a sound is made.
        </Note>
      )}
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
