import { NumberInput, Select } from '@mantine/core'
import type { ResponseOf } from '../../../app/contract/calls.ts'

/** What a speaker gives, as a request says it: undefined asks the records, null judges without one. */
export type SpeakerChoice =
  | { readonly kind: 'records' }
  | { readonly kind: 'none' }
  | { readonly kind: 'own'; readonly lowLimitHz: number | null }

interface PrepareForProps {
  readonly boards: ResponseOf<'boards:list'>['boards']
  readonly boardId: string
  readonly onBoard: (boardId: string) => void
  readonly speaker: SpeakerChoice
  readonly onSpeaker: (speaker: SpeakerChoice) => void
  /** The build's own limit; null where it has none, or there is no build. */
  readonly buildLimitHz: number | null
}

/** For which board, and as heard through which speaker. */
export function PrepareFor({ boards, boardId, onBoard, speaker, onSpeaker, buildLimitHz }: PrepareForProps) {
  return (
    <div className="row row-end">
      <Select
        label="For the board"
        data={boards.map((board) => ({ value: board.id, label: board.title }))}
        value={boardId}
        onChange={(next) => next !== null && onBoard(next)}
        allowDeselect={false}
        w="16rem"
      />
      <Select
        label="Heard through"
        data={[
          {
            value: 'records',
            label:
              buildLimitHz === null ? "The workshop's usual speaker" : `The build's, from ${buildLimitHz} Hz`,
          },
          { value: 'none', label: 'No speaker' },
          { value: 'own', label: 'Another speaker' },
        ]}
        value={speaker.kind}
        onChange={(next) => {
          if (next === 'own') onSpeaker({ kind: 'own', lowLimitHz: null })
          else if (next === 'none' || next === 'records') onSpeaker({ kind: next })
        }}
        allowDeselect={false}
        w="18rem"
      />
      {speaker.kind === 'own' && (
        <NumberInput
          label="Its lowest frequency, in Hz"
          value={speaker.lowLimitHz ?? ''}
          onChange={(next) => onSpeaker({ kind: 'own', lowLimitHz: typeof next === 'number' ? next : null })}
          min={20}
          max={20_000}
          allowDecimal={false}
          hideControls
          w="14rem"
        />
      )}
    </div>
  )
}
