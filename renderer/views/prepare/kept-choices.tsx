import { Button } from '@mantine/core'
import { useEffect, useRef } from 'react'
import { ErrorNote } from '../../elements/error-note.tsx'
import { useChange } from '../../hooks/use-change.ts'
import { nameOfChoice, scopeInWords, wordInWords, type KeptChoice } from './prepared-in-words.ts'

interface KeptChoicesProps {
  readonly boardId: string
  readonly choices: readonly KeptChoice[]
  readonly fontNames: ReadonlyMap<string, string>
  readonly onTakenBack: () => void
  /** The last is taken back, and what had the focus is gone. */
  readonly onNoneLeft: () => void
}

/** The user's own words on steps, as the workshop keeps them; each can be taken back. */
export function KeptChoices({ boardId, choices, fontNames, onTakenBack, onNoneLeft }: KeptChoicesProps) {
  const choose = useChange('prepare:choose')
  const list = useRef<HTMLUListElement>(null)
  const pressed = useRef<{ readonly at: number; readonly count: number } | null>(null)

  // The keyboard goes on with the next one.
  useEffect(() => {
    if (pressed.current === null || choices.length === pressed.current.count) return
    const left = list.current?.querySelectorAll('button') ?? []
    const next = left[Math.min(pressed.current.at, left.length - 1)]
    pressed.current = null
    if (next === undefined) onNoneLeft()
    else next.focus()
  })

  async function takeBack(these: readonly KeptChoice[], at: number): Promise<void> {
    pressed.current = { at, count: choices.length }
    const editionIds = [...new Set(these.map(({ editionId }) => editionId))]
    for (const editionId of editionIds) {
      const own = these.filter((choice) => choice.editionId === editionId)
      const kept = await choose.run({ boardId, editionIds: [editionId], forget: own.map(nameOfChoice) })
      if (kept === undefined) return
    }
    onTakenBack()
  }

  if (choices.length === 0) return null
  return (
    <section className="sheet sheet-stack" aria-label="Your own words on steps">
      <h2>Your own words on steps</h2>
      <ul className="choice-list" ref={list}>
        {choices.map((choice, index) => {
          const words = `${fontNames.get(choice.editionId) ?? 'A font'}, ${scopeInWords(choice)}: ${wordInWords(choice)}`
          return (
            <li key={JSON.stringify(nameOfChoice(choice)) + choice.editionId}>
              <span className="break">{words}</span>
              <Button
                size="xs"
                variant="default"
                aria-label={`Take back: ${words}`}
                loading={choose.isRunning}
                onClick={() => void takeBack([choice], index)}
              >
                Take back
              </Button>
            </li>
          )
        })}
      </ul>
      {choices.length > 1 && (
        <div>
          <Button
            size="sm"
            variant="default"
            loading={choose.isRunning}
            onClick={() => void takeBack(choices, 0)}
          >
            Take all back
          </Button>
        </div>
      )}
      {choose.error !== null && <ErrorNote error={choose.error} />}
    </section>
  )
}
