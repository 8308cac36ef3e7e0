import { Button } from '@mantine/core'
import { useState } from 'react'
import { ErrorNote } from '../../elements/error-note.tsx'
import { Note } from '../../elements/note.tsx'
import { PathField } from '../../elements/path-field.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'

interface PageForCreatorProps {
  readonly editionId: string
  readonly font: string
  readonly boardId: string
}

/** Writes what was found as a page that can be sent to the font's creator. */
export function PageForCreator({ editionId, font, boardId }: PageForCreatorProps) {
  const { now, start } = useLongCall('check:report')
  const [path, setPath] = useState(() => `${font.replace(/[^\p{L}\p{N} ._-]+/gu, '_')}, ${boardId}.html`)
  return (
    <form
      className="sheet sheet-stack"
      aria-label="A page for its creator"
      onSubmit={(event) => {
        event.preventDefault()
        if (path.trim() !== '' && now.state !== 'running') {
          start({ boardId, editionIds: [editionId], reportPath: path.trim() })
        }
      }}
    >
      <p className="quiet">
        Every finding with its reason and how to mend it at the source, as one HTML file to send or print. It
        names no client, no licence, and no path of this computer.
      </p>
      <PathField
        label="Write it to"
        description="A bare file name lies in the workshop's images folder; one that is there is replaced"
        kinds={[]}
        value={path}
        onChange={setPath}
      />
      <div>
        <Button type="submit" disabled={path.trim() === ''} loading={now.state === 'running'}>
          Write the page
        </Button>
      </div>
      {now.state === 'failed' && <ErrorNote error={now.error} />}
      {now.state === 'done' && (
        <Note tone="good" title="The page was written." role="status">
          <p className="mono break">{now.value.reportPath}</p>
        </Note>
      )}
    </form>
  )
}
