import { Button } from '@mantine/core'
import type { ReactNode } from 'react'
import { ErrorNote } from '../../elements/error-note.tsx'
import { Note } from '../../elements/note.tsx'
import type { FormState } from './use-record-form.ts'

interface RecordFormProps {
  readonly form: FormState
  readonly submit: () => void
  readonly children: ReactNode
}

/** A plain form of one record: its fields, what went wrong, and one button. */
export function RecordForm({ form, submit, children }: RecordFormProps) {
  return (
    <form
      className="sheet sheet-stack"
      onSubmit={(event) => {
        event.preventDefault()
        submit()
      }}
    >
      {children}
      {form.error !== null && <ErrorNote error={form.error} />}
      {form.isSaved && <Note tone="good" title="Saved." role="status" />}
      <div>
        <Button type="submit" loading={form.isRunning}>
          {form.isNew ? 'Add' : 'Save'}
        </Button>
      </div>
    </form>
  )
}
