import { Button } from '@mantine/core'
import type { AppError } from '../../app/errors/app-error.ts'
import { Mend } from './mend.tsx'
import { Note } from './note.tsx'

interface ErrorNoteProps {
  readonly error: AppError
  readonly again?: () => void
}

/** What happened, to which thing, and how to mend it, as the error itself says. */
export function ErrorNote({ error, again }: ErrorNoteProps) {
  if (error.code === 'cancelled')
    return (
      <Note tone="unknown" title={error.what} role="status">
        {error.mend}
      </Note>
    )
  return (
    <Note tone="bad" title={error.what} role="alert">
      {error.where !== '' && <p className="mono break">{error.where}</p>}
      <Mend mend={error.mend} steps={error.steps} />
      {again !== undefined && (
        <Button mt="xs" size="sm" variant="default" onClick={again}>
          Try again
        </Button>
      )}
    </Note>
  )
}
