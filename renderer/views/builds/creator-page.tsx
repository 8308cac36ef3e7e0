import { Textarea, TextInput } from '@mantine/core'
import type { Creator } from '../../../app/model/records.ts'
import { Note } from '../../elements/note.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { RecordForm } from './record-form.tsx'
import { RecordsPlaces } from './records-places.tsx'
import { useRecordForm } from './use-record-form.ts'

/** A creator who is added (`new`) or shown and changed. */
export function CreatorPage({ id }: { readonly id: string }) {
  const creators = useAsk('creators:list', {})
  return (
    <div className="page-stack">
      <RecordsPlaces />
      <WhenLoaded loaded={creators} what="the creator">
        {({ creators: list }) => {
          const creator = list.find((each) => each.id === id)
          if (creator === undefined && id !== 'new') {
            return <Note tone="care" title="This creator is not on record." />
          }
          return (
            <>
              <PageHead title={creator?.name ?? 'New creator'} />
              <CreatorForm creator={creator} />
            </>
          )
        }}
      </WhenLoaded>
    </div>
  )
}

function CreatorForm({ creator }: { readonly creator: Creator | undefined }) {
  const form = useRecordForm('creators:add', 'creators:change', creator?.id, {
    name: creator?.name ?? '',
    contact: creator?.contact ?? '',
    note: creator?.note ?? '',
  })
  const { values, set } = form
  return (
    <RecordForm form={form} submit={() => form.save({}, ({ creator: { id } }) => `/builds/creators/${id}`)}>
      <div className="form">
        <TextInput
          label="Name"
          required
          value={values.name}
          onChange={(event) => set({ name: event.currentTarget.value })}
        />
        <TextInput
          label="Contact"
          value={values.contact}
          onChange={(event) => set({ contact: event.currentTarget.value })}
        />
        <Textarea
          className="form-wide"
          label="Note"
          autosize
          minRows={3}
          value={values.note}
          onChange={(event) => set({ note: event.currentTarget.value })}
        />
      </div>
    </RecordForm>
  )
}
