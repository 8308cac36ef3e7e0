import { Button, Select, TextInput } from '@mantine/core'
import { useState } from 'react'
import type { Edition } from '../../../app/model/library.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { Note } from '../../elements/note.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChange } from '../../hooks/use-change.ts'

/** Sets a font's name, version and creator; its files stay as they are. */
export function FontForm({ edition }: { readonly edition: Edition }) {
  const creators = valueOr(useAsk('creators:list', {}), undefined)?.creators ?? []
  const change = useChange('fonts:set')
  const [name, setName] = useState(edition.font.name)
  const [version, setVersion] = useState(edition.version)
  const [creatorId, setCreatorId] = useState(edition.font.creatorId)
  const [isSaved, setIsSaved] = useState(false)
  return (
    <form
      className="sheet sheet-stack"
      onSubmit={(event) => {
        event.preventDefault()
        setIsSaved(false)
        void change
          .run({ editionId: edition.id, name, version, creatorId })
          .then((set) => setIsSaved(set !== undefined))
      }}
    >
      <p className="quiet">These are records: no file or folder is renamed.</p>
      <div className="form">
        <TextInput
          label="Name"
          value={name}
          onChange={(event) => setName(event.currentTarget.value)}
          required
        />
        <TextInput
          label="Version"
          value={version}
          onChange={(event) => setVersion(event.currentTarget.value)}
          description="Empty where none is known"
        />
        <Select
          label="Creator"
          description={
            edition.font.proposedCreatorName === null
              ? 'Add creators under Builds'
              : `Its folder says: ${edition.font.proposedCreatorName}`
          }
          data={creators.map((creator) => ({ value: creator.id, label: creator.name }))}
          value={creatorId}
          onChange={setCreatorId}
          clearable
          searchable
        />
      </div>
      {change.error !== null && <ErrorNote error={change.error} />}
      {isSaved && <Note tone="good" title="Saved." role="status" />}
      <div>
        <Button type="submit" loading={change.isRunning}>
          Save
        </Button>
      </div>
    </form>
  )
}
