import { Select, Textarea, TextInput } from '@mantine/core'
import {
  CONVERSION_ANSWERS,
  LICENCE_KINDS,
  type ConversionAllowed,
  type Licence,
  type LicenceKind,
} from '../../../app/model/records.ts'
import type { FontRow } from '../fonts/font-row.ts'
import { RecordForm } from './record-form.tsx'
import { useRecordForm } from './use-record-form.ts'

interface LicenceFormProps {
  readonly licence: Licence | undefined
  readonly forFontId: string | null
  readonly rows: readonly FontRow[]
}

export function LicenceForm({ licence, forFontId, rows }: LicenceFormProps) {
  const form = useRecordForm('licences:add', 'licences:change', licence?.id, {
    fontId: licence?.fontId ?? forFontId ?? '',
    holder: licence?.holder ?? '',
    kind: licence?.kind ?? ('bought' as LicenceKind),
    grantedOn: licence?.grantedOn ?? '',
    orderReference: licence?.orderReference ?? '',
    terms: licence?.terms ?? '',
    conversionAllowed: licence?.conversionAllowed ?? ('unknown' as ConversionAllowed),
    note: licence?.note ?? '',
  })
  const { values, set } = form
  // A font has as many rows as editions; a licence is for the font.
  const fonts = new Map(rows.map(({ font }) => [font.id, font.name]))
  if (licence !== undefined) fonts.set(licence.fontId, licence.fontName)
  return (
    <RecordForm form={form} submit={() => form.save({}, ({ licence: { id } }) => `/builds/licences/${id}`)}>
      <div className="form">
        <Select
          label="Font"
          required
          searchable
          limit={50}
          data={[...fonts].map(([value, label]) => ({ value, label }))}
          value={values.fontId === '' ? null : values.fontId}
          onChange={(next) => set({ fontId: next ?? '' })}
        />
        <Select
          label="Kind"
          required
          data={[...LICENCE_KINDS]}
          value={values.kind}
          onChange={(next) => next !== null && set({ kind: next as LicenceKind })}
          allowDeselect={false}
        />
        <TextInput
          label="Holder"
          description="In whose name it stands"
          value={values.holder}
          onChange={(event) => set({ holder: event.currentTarget.value })}
        />
        <TextInput
          label="Granted on"
          description="Empty where unknown"
          type="date"
          value={values.grantedOn}
          onChange={(event) => set({ grantedOn: event.currentTarget.value })}
        />
        <TextInput
          label="Order reference"
          value={values.orderReference}
          onChange={(event) => set({ orderReference: event.currentTarget.value })}
        />
        <Select
          label="Conversion allowed"
          description="Whether its creator allows sounds to be converted"
          required
          data={[...CONVERSION_ANSWERS]}
          value={values.conversionAllowed}
          onChange={(next) => next !== null && set({ conversionAllowed: next as ConversionAllowed })}
          allowDeselect={false}
        />
        <Textarea
          className="form-wide"
          label="Terms"
          description="What it allows, in the creator's words or yours"
          autosize
          minRows={3}
          value={values.terms}
          onChange={(event) => set({ terms: event.currentTarget.value })}
        />
        <Textarea
          className="form-wide"
          label="Note"
          autosize
          minRows={2}
          value={values.note}
          onChange={(event) => set({ note: event.currentTarget.value })}
        />
      </div>
    </RecordForm>
  )
}
