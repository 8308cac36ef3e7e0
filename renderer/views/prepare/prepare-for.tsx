import { Button, NumberInput, Select } from '@mantine/core'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { SPEAKER_LOW_LIMIT_HZ } from '../../../app/model/speaker-low-limit.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChange } from '../../hooks/use-change.ts'

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
  /** While what is told of them is being found out. */
  readonly isFixed: boolean
}

/** For which board, and as heard through which speaker. */
export function PrepareFor(props: PrepareForProps) {
  const { boards, boardId, onBoard, speaker, onSpeaker, buildLimitHz, isFixed } = props
  const usualLimitHz = valueOr(useAsk('workshop:status', {}), undefined)?.speakerLowLimitHz ?? null
  return (
    <div className="row row-end">
      <Select
        label="For the board"
        data={boards.map((board) => ({ value: board.id, label: board.title }))}
        value={boardId}
        onChange={(next) => next !== null && onBoard(next)}
        allowDeselect={false}
        disabled={isFixed}
        w="16rem"
      />
      <Select
        label="Heard through"
        data={[
          { value: 'records', label: recordedInWords(buildLimitHz, usualLimitHz) },
          { value: 'none', label: 'No speaker' },
          { value: 'own', label: 'Another speaker' },
        ]}
        value={speaker.kind}
        onChange={(next) => {
          if (next === 'own') onSpeaker({ kind: 'own', lowLimitHz: null })
          else if (next === 'none' || next === 'records') onSpeaker({ kind: next })
        }}
        allowDeselect={false}
        disabled={isFixed}
        w="23rem"
      />
      {speaker.kind === 'own' && (
        <NumberInput
          label="Its lowest frequency, in Hz"
          value={speaker.lowLimitHz ?? ''}
          onChange={(next) => onSpeaker({ kind: 'own', lowLimitHz: typeof next === 'number' ? next : null })}
          min={SPEAKER_LOW_LIMIT_HZ.least}
          max={SPEAKER_LOW_LIMIT_HZ.most}
          allowDecimal={false}
          hideControls
          disabled={isFixed}
          w="14rem"
        />
      )}
      <KeepUsual
        speaker={speaker}
        usualLimitHz={usualLimitHz}
        onKept={() => onSpeaker({ kind: 'records' })}
      />
    </div>
  )
}

function recordedInWords(buildLimitHz: number | null, usualLimitHz: number | null): string {
  if (buildLimitHz !== null) return `The build's, from ${buildLimitHz} Hz`
  return usualLimitHz === null
    ? "The workshop's usual (none told)"
    : `The workshop's usual, from ${usualLimitHz} Hz`
}

interface KeepUsualProps {
  readonly speaker: SpeakerChoice
  readonly usualLimitHz: number | null
  readonly onKept: () => void
}

/** Lets the workshop keep what was chosen as its usual speaker. */
function KeepUsual({ speaker, usualLimitHz, onKept }: KeepUsualProps) {
  const change = useChange('workshop:change')
  const chosenHz = speaker.kind === 'own' ? speaker.lowLimitHz : null
  const isNew = speaker.kind === 'own' ? chosenHz !== null : speaker.kind === 'none' && usualLimitHz !== null
  if (!isNew || chosenHz === usualLimitHz) return null

  async function keep(): Promise<void> {
    if ((await change.run({ speakerLowLimitHz: chosenHz })) !== undefined) onKept()
  }
  return (
    <>
      <Button variant="default" loading={change.isRunning} onClick={() => void keep()}>
        {chosenHz === null ? "Forget the workshop's usual speaker" : "Make it the workshop's usual"}
      </Button>
      {change.error !== null && <ErrorNote error={change.error} />}
    </>
  )
}
