import { Button } from '@mantine/core'
import { useRef } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { counted } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'
import { goToPosition, TextWithLines } from '../../elements/text-with-lines.tsx'
import type { BoardEdit } from '../../hooks/use-board-edits.tsx'
import { useChange } from '../../hooks/use-change.ts'
import type { Loaded } from '../../hooks/loaded.ts'

interface BoardEditorProps {
  readonly boardId: string
  /** As it is kept. */
  readonly kept: string
  readonly edit: BoardEdit
  readonly tested: Loaded<ResponseOf<'boards:test'>>
}

const FAULTS = 'board-faults'

/** The text of a board of the workshop, read while it is typed; a text with a fault is never kept. */
export function BoardEditor({ boardId, kept, edit, tested }: BoardEditorProps) {
  const field = useRef<HTMLTextAreaElement>(null)
  const save = useChange('boards:save')
  const problems = tested.state === 'ready' ? tested.value.problems : []
  const { text } = edit
  const isChanged = text !== kept
  return (
    <form
      className="sheet-stack"
      aria-label="Board file"
      onSubmit={(event) => {
        event.preventDefault()
        void save.run({ boardId, text }).then((saved) => saved !== undefined && edit.letGo(text))
      }}
    >
      <TextWithLines
        name="Text of the board file"
        text={text}
        onChange={edit.change}
        faultyLines={new Set(problems.map(({ line }) => line))}
        describedBy={FAULTS}
        field={field}
      />
      <div id={FAULTS} role="status">
        {problems.length > 0 && (
          <Note tone="bad" title={`${counted(problems.length, 'fault')}: this text cannot be kept yet`}>
            <ul>
              {problems.map(({ line, column, message }) => (
                <li key={`${line} ${column} ${message}`}>
                  <button
                    type="button"
                    className="text-button"
                    onClick={() => field.current !== null && goToPosition(field.current, line, column)}
                  >
                    Line {line}, column {column}
                  </button>
                  : {message}
                </li>
              ))}
            </ul>
          </Note>
        )}
        {problems.length === 0 && isChanged && (
          <Note tone="care" title="Not kept yet.">
            It can be kept: no fault was found. Cards that were made before keep the board as it was then.
          </Note>
        )}
        {problems.length === 0 && !isChanged && <Note tone="good" title="Kept as it stands here." />}
      </div>
      {tested.state === 'failed' && <ErrorNote error={tested.error} again={tested.again} />}
      {save.error !== null && <ErrorNote error={save.error} />}
      <div className="row">
        <Button type="submit" disabled={!isChanged || problems.length > 0} loading={save.isRunning}>
          Keep the text
        </Button>
        {isChanged && (
          <Button variant="default" onClick={() => edit.letGo(text)}>
            Take the changes back
          </Button>
        )}
      </div>
    </form>
  )
}
