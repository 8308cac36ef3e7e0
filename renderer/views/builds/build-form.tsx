import { NumberInput, Select, Textarea, TextInput } from '@mantine/core'
import { useState } from 'react'
import type { Build } from '../../../app/model/records.ts'
import { SPEAKER_LOW_LIMIT_HZ } from '../../../app/model/speaker-low-limit.ts'
import type { FontRow } from '../fonts/font-row.ts'
import { BuildFonts } from './build-fonts.tsx'
import { BuildRules } from './build-rules.tsx'
import { RecordForm } from './record-form.tsx'
import { useRecordForm } from './use-record-form.ts'

interface BuildFormProps {
  readonly build: Build | undefined
  readonly rows: readonly FontRow[]
  readonly boards: readonly { readonly id: string; readonly title: string }[]
  readonly usualBoardId: string | undefined
}

export function BuildForm({ build, rows, boards, usualBoardId }: BuildFormProps) {
  const form = useRecordForm('builds:add', 'builds:change', build?.id, {
    code: build?.code ?? '',
    clientLabel: build?.clientLabel ?? '',
    boardId: build?.boardId ?? usualBoardId ?? boards[0]?.id ?? '',
    speaker: build?.speaker ?? '',
    speakerLowLimitHz: build?.speakerLowLimitHz ?? null,
    fontEditionIds: build?.fontEditionIds ?? [],
    ruleChanges: build?.ruleChanges ?? [],
    note: build?.note ?? '',
  })
  const { values, set } = form
  const [configName, setConfigName] = useState(build?.config?.fileName ?? '')
  const [configText, setConfigText] = useState(build?.config?.text ?? '')

  return (
    <RecordForm
      form={form}
      submit={() =>
        form.save(
          { config: configName.trim() === '' ? null : { fileName: configName.trim(), text: configText } },
          ({ build: { id } }) => `/builds/${id}`,
        )
      }
    >
      <div className="form">
        <TextInput
          label="Code"
          description="What stands on your label"
          required
          value={values.code}
          onChange={(event) => set({ code: event.currentTarget.value })}
        />
        <TextInput
          label="Client"
          description="A label of your own; no name is needed"
          value={values.clientLabel}
          onChange={(event) => set({ clientLabel: event.currentTarget.value })}
        />
        <Select
          label="Board"
          required
          data={boards.map((board) => ({ value: board.id, label: board.title }))}
          value={values.boardId}
          onChange={(next) => next !== null && set({ boardId: next })}
          allowDeselect={false}
        />
        <TextInput
          label="Speaker"
          value={values.speaker}
          onChange={(event) => set({ speaker: event.currentTarget.value })}
        />
        <NumberInput
          label="Speaker's low limit"
          description="Lowest frequency it gives, in Hz; empty where unknown"
          suffix=" Hz"
          min={SPEAKER_LOW_LIMIT_HZ.least}
          max={SPEAKER_LOW_LIMIT_HZ.most}
          value={values.speakerLowLimitHz ?? ''}
          onChange={(next) => set({ speakerLowLimitHz: typeof next === 'number' ? next : null })}
        />
      </div>
      <BuildFonts
        boardId={values.boardId}
        editionIds={values.fontEditionIds}
        rows={rows}
        onChange={(fontEditionIds) => set({ fontEditionIds })}
      />
      <h2>Config file</h2>
      <div className="form">
        <TextInput
          label="Its name on the card"
          description="Empty where none is recorded"
          spellCheck={false}
          value={configName}
          onChange={(event) => setConfigName(event.currentTarget.value)}
        />
        {configName.trim() !== '' && (
          <Textarea
            className="form-wide"
            label="Its text"
            autosize
            minRows={4}
            maxRows={20}
            spellCheck={false}
            classNames={{ input: 'mono' }}
            value={configText}
            onChange={(event) => setConfigText(event.currentTarget.value)}
          />
        )}
      </div>
      <BuildRules
        boardId={values.boardId}
        changes={values.ruleChanges}
        onChange={(ruleChanges) => set({ ruleChanges })}
      />
      <Textarea
        label="Note"
        autosize
        minRows={2}
        value={values.note}
        onChange={(event) => set({ note: event.currentTarget.value })}
      />
    </RecordForm>
  )
}
