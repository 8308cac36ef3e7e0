import { Button, TextInput } from '@mantine/core'
import { useState } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { Note } from '../../elements/note.tsx'
import { useChange } from '../../hooks/use-change.ts'

interface KeepSchemeProps {
  readonly editionId: string
  readonly font: string
}

/** Makes a scheme of the workshop from the roles as they are known now. */
export function KeepScheme({ editionId, font }: KeepSchemeProps) {
  const change = useChange('roles:keep-scheme')
  const [schemeId, setSchemeId] = useState('')
  const [title, setTitle] = useState(`Names of ${font}`)
  const [kept, setKept] = useState<ResponseOf<'roles:keep-scheme'> | null>(null)
  return (
    <form
      className="sheet sheet-stack"
      aria-label="Keep as a scheme"
      onSubmit={(event) => {
        event.preventDefault()
        setKept(null)
        void change.run({ editionId, schemeId: schemeId.trim(), title }).then((made) => setKept(made ?? null))
      }}
    >
      <h2>Keep as a scheme</h2>
      <p className="quiet">
        Fonts that are named like this one are then read by themselves at the next scan.
      </p>
      <div className="form">
        <TextInput
          label="Id of the scheme"
          description="Small letters, digits and hyphens"
          value={schemeId}
          onChange={(event) => setSchemeId(event.currentTarget.value)}
          spellCheck={false}
          required
        />
        <TextInput
          label="Title of the scheme"
          value={title}
          onChange={(event) => setTitle(event.currentTarget.value)}
          required
        />
      </div>
      {change.error !== null && <ErrorNote error={change.error} />}
      {kept !== null && (
        <Note tone="good" title={`Kept as the scheme ${kept.scheme.id}.`} role="status">
          <ul>
            {kept.scheme.templates.map((template) => (
              <li key={template} className="mono break">
                {template}
              </li>
            ))}
          </ul>
          <p className="mono break">{kept.path}</p>
        </Note>
      )}
      <div>
        <Button type="submit" variant="default" loading={change.isRunning}>
          Keep the scheme
        </Button>
      </div>
    </form>
  )
}
