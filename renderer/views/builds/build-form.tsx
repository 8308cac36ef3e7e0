import { NumberInput, Select, Textarea, TextInput } from '@mantine/core'
import { useState } from 'react'
import type { Build } from '../../../app/model/records.ts'
import { fontInWords } from '../../elements/in-words.ts'
import { OrderedFonts } from '../../elements/ordered-fonts.tsx'
import type { FontRow } from '../fonts/font-row.ts'
import { AddFont } from './add-font.tsx'
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
    note: build?.note ?? '',
  })
  const { values, set } = form
  const [configName, setConfigName] = useState(build?.config?.fileName ?? '')
  const [configText, setConfigText] = useState(build?.config?.text ?? '')
  const byId = new Map(rows.map((row) => [row.id, row]))

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
          min={20}
          max={20_000}
          value={values.speakerLowLimitHz ?? ''}
          onChange={(next) => set({ speakerLowLimitHz: typeof next === 'number' ? next : null })}
        />
      </div>
      <h2>Fonts, in play order</h2>
      {values.fontEditionIds.length > 0 && (
        <OrderedFonts
          name="Fonts of the build, in play order"
          fonts={values.fontEditionIds.map((editionId) => {
            const row = byId.get(editionId)
            const name = row === undefined ? 'A font that is gone' : fontInWords(row.font.name, row.version)
            return { editionId, name, beside: null }
          })}
          onChange={(fontEditionIds) => set({ fontEditionIds })}
        />
      )}
      <AddFont
        rows={rows}
        chosen={values.fontEditionIds}
        onAdd={(editionId) => set({ fontEditionIds: [...values.fontEditionIds, editionId] })}
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
