import { Button, NumberInput, Select } from '@mantine/core'
import { useState } from 'react'
import { RECIPE_CHOICE_NUMBERS, type RecipeStepName } from '../../../app/model/recipe.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { useChange } from '../../hooks/use-change.ts'
import type { PreparedSoundRow } from '../../hooks/use-preparing.ts'
import { CHOSEN_STEPS, STEP_NAMES } from './prepared-in-words.ts'

interface StepChoiceProps {
  readonly editionId: string
  readonly boardId: string
  readonly sound: PreparedSoundRow
  /** It is kept; what was told no longer holds. */
  readonly onKept: () => void
  readonly onLeave: () => void
}

type Scope = 'sound' | 'role' | 'font'

/** Leaves a step out or sets its number: for one sound, for its role, or for the font. Kept in the workshop. */
export function StepChoice({ editionId, boardId, sound, onKept, onLeave }: StepChoiceProps) {
  const [step, setStep] = useState<RecipeStepName>(
    () => sound.steps.find((each) => each.inWords !== '')?.step ?? 'gain',
  )
  const [scope, setScope] = useState<Scope>('sound')
  const [isSet, setIsSet] = useState(false)
  const [value, setValue] = useState<number | string>('')
  const choose = useChange('prepare:choose')
  const range = RECIPE_CHOICE_NUMBERS[step]
  const sets = isSet && range !== undefined
  const isReady = !sets || typeof value === 'number'

  async function keep(): Promise<void> {
    const kept = await choose.run({
      boardId,
      editionIds: [editionId],
      choices: [
        {
          step,
          value: sets ? Number(value) : null,
          ...(scope === 'sound' ? { path: sound.path } : {}),
          ...(scope === 'role' && sound.role !== null ? { role: sound.role } : {}),
        },
      ],
    })
    if (kept !== undefined) onKept()
  }

  return (
    <form
      className="sheet-stack"
      aria-label={`Change a step of ${sound.path}`}
      onSubmit={(event) => {
        event.preventDefault()
        if (isReady) void keep()
      }}
    >
      <div className="row row-end">
        <Select
          label="Step"
          data={CHOSEN_STEPS.map((each) => ({ value: each, label: STEP_NAMES[each] }))}
          value={step}
          onChange={(next) => {
            const found = CHOSEN_STEPS.find((each) => each === next)
            if (found === undefined) return
            setStep(found)
            setValue('')
          }}
          allowDeselect={false}
          w="12rem"
        />
        <Select
          label="What"
          data={[
            { value: 'leave-out', label: 'Leave it out' },
            ...(range === undefined ? [] : [{ value: 'set', label: 'Set its number' }]),
          ]}
          value={sets ? 'set' : 'leave-out'}
          onChange={(next) => setIsSet(next === 'set')}
          allowDeselect={false}
          w="11rem"
        />
        {sets && (
          <NumberInput
            label={`Number, in ${range.unit}`}
            value={value}
            onChange={setValue}
            min={range.least}
            max={range.most}
            decimalScale={2}
            hideControls
            w="11rem"
            description={`From ${String(range.least).replace('-', '−')} to ${range.most}`}
            inputWrapperOrder={['label', 'description', 'input', 'error']}
          />
        )}
        <Select
          label="For"
          data={[
            { value: 'sound', label: 'This sound' },
            ...(sound.role === null ? [] : [{ value: 'role', label: `All ${sound.role} sounds` }]),
            { value: 'font', label: 'The whole font' },
          ]}
          value={scope}
          onChange={(next) => setScope(next === 'role' || next === 'font' ? next : 'sound')}
          allowDeselect={false}
          w="13rem"
        />
        <Button type="submit" disabled={!isReady} loading={choose.isRunning}>
          Keep it
        </Button>
        <Button variant="default" onClick={onLeave}>
          Leave it
        </Button>
      </div>
      {choose.error !== null && <ErrorNote error={choose.error} />}
    </form>
  )
}
