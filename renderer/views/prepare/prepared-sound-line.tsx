import { useRef, useState } from 'react'
import { Link } from 'wouter'
import { Icon, type IconName } from '../../elements/icon.tsx'
import type { PreparedSoundRow } from '../../hooks/use-preparing.ts'
import { BeforeAfter } from './before-after.tsx'
import { HearTakes } from './hear-takes.tsx'
import { changeRows, scopeInWords, wordInWords, type KeptChoice } from './prepared-in-words.ts'
import { RecipeSteps } from './recipe-steps.tsx'
import { StepChoice } from './step-choice.tsx'

interface PreparedSoundLineProps {
  readonly editionId: string
  readonly boardId: string
  readonly sound: PreparedSoundRow
  /** Whether what is told was made: then both takes can be heard. */
  readonly isMade: boolean
  /** The user's words that concern it. */
  readonly choices: readonly KeptChoice[]
  /** Words on steps have changed: what is told here no longer holds. */
  readonly onChosen: () => void
}

/** Heads of the columns; in a narrow window each stands over its own value. */
export const HEADS = {
  sound: 'Sound',
  wrong: 'What was wrong',
  toDo: 'What will be done',
  done: 'What was done',
  change: 'Before → after',
} as const

interface StateMark {
  readonly word: string
  readonly icon: IconName
  readonly tone: string
}

const STATES: Readonly<Record<PreparedSoundRow['state'], StateMark>> = {
  planned: { word: 'to be made', icon: 'note', tone: 'tone-unknown' },
  made: { word: 'made', icon: 'ready', tone: 'tone-good' },
  kept: { word: 'made before', icon: 'ready', tone: 'tone-good' },
  unchanged: { word: 'needs nothing', icon: 'ready', tone: 'tone-good' },
  failed: { word: 'failed', icon: 'error', tone: 'tone-bad' },
}
/** What a dry run knows already. */
const NOT_TO_BE_MADE: StateMark = { word: 'cannot be made', icon: 'error', tone: 'tone-bad' }
/** No step mends what was found: another file must, or the plan of the card does by itself. */
const LEFT: StateMark = { word: 'left as it is', icon: 'note', tone: 'tone-unknown' }

/** One sound: what was wrong, what is done step by step, and before and after. */
export function PreparedSoundLine(props: PreparedSoundLineProps) {
  const { editionId, boardId, sound, isMade, choices, onChosen } = props
  const [isHearing, setIsHearing] = useState(false)
  const [isChanging, setIsChanging] = useState(false)
  const opener = useRef<HTMLButtonElement>(null)
  const isLeft = sound.state === 'unchanged' && sound.wrong.length > 0
  const stands = isMade || sound.state !== 'failed' ? STATES[sound.state] : NOT_TO_BE_MADE
  const { word, icon, tone } = isLeft ? LEFT : stands
  // The keyboard goes on from where the form was opened.
  const close = () => {
    setIsChanging(false)
    opener.current?.focus()
  }
  return (
    <>
      <tr role="row">
        <td role="cell" className="prepared-sound">
          <span className="mono break">
            <Link href={`/fonts/${editionId}/sounds/${sound.soundId}/for/${boardId}`}>{sound.path}</Link>
          </span>
          <p className="quiet">
            {sound.role ?? 'role not known'}
            {sound.isLoop && ', a loop'}
          </p>
          <span className={`mark ${tone}`}>
            <Icon name={icon} />
            {word}
          </span>
        </td>
        <td role="cell" className="prepared-wrong" data-head={HEADS.wrong}>
          {sound.wrong.length === 0 ? (
            <span className="quiet">Nothing.</span>
          ) : (
            <ul>
              {sound.wrong.map((message) => (
                <li key={message}>{message}</li>
              ))}
            </ul>
          )}
        </td>
        <td role="cell" className="prepared-steps" data-head={isMade ? HEADS.done : HEADS.toDo}>
          {isMade && sound.state === 'failed' && <p>Nothing was done of this:</p>}
          <RecipeSteps steps={sound.steps} />
          {choices.map((choice) => (
            <p key={`${choice.step} ${scopeInWords(choice)}`} className="quiet">
              Your word for {scopeInWords(choice)}: {wordInWords(choice)}.
            </p>
          ))}
          {sound.told.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
          {sound.problem !== null && <p className="problem-words">{sound.problem.message}</p>}
          <button
            type="button"
            className="text-button"
            ref={opener}
            aria-expanded={isChanging}
            aria-label={`Change a step of ${sound.path}`}
            onClick={() => setIsChanging(!isChanging)}
          >
            Change a step
          </button>
          {isMade && sound.after !== null && (
            <>
              {' · '}
              <button
                type="button"
                className="text-button"
                aria-expanded={isHearing}
                aria-label={`Hear A and B of ${sound.path}`}
                onClick={() => setIsHearing(!isHearing)}
              >
                Hear A and B
              </button>
            </>
          )}
        </td>
        <td role="cell" className="prepared-change" data-head={HEADS.change}>
          <BeforeAfter rows={changeRows(sound)} />
        </td>
      </tr>
      {isHearing && (
        <tr role="row">
          <td role="cell" colSpan={4} className="prepared-wide">
            {/* What was prepared anew is fetched anew. */}
            <HearTakes key={sound.after?.sha256} sound={{ ...sound, board: boardId }} />
          </td>
        </tr>
      )}
      {isChanging && (
        <tr role="row">
          <td role="cell" colSpan={4} className="prepared-wide">
            <StepChoice
              editionId={editionId}
              boardId={boardId}
              sound={sound}
              onKept={() => {
                close()
                onChosen()
              }}
              onLeave={close}
            />
          </td>
        </tr>
      )}
    </>
  )
}
