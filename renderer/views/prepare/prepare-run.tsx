import { Button } from '@mantine/core'
import { useState } from 'react'
import { PathField } from '../../elements/path-field.tsx'

interface PrepareRunProps {
  readonly isRunning: boolean
  readonly canRun: boolean
  onRun(places: { readonly into?: string; readonly reportPath?: string }): void
}

/** Makes the sounds; besides, writes the fonts as folders and a page about them where that is wanted. */
export function PrepareRun({ isRunning, canRun, onRun }: PrepareRunProps) {
  const [into, setInto] = useState('')
  const [reportPath, setReportPath] = useState('')
  return (
    <form
      className="sheet sheet-stack"
      aria-label="Prepare"
      onSubmit={(event) => {
        event.preventDefault()
        if (!canRun || isRunning) return
        const places = { into: into.trim(), reportPath: reportPath.trim() }
        onRun({
          ...(places.into === '' ? {} : { into: places.into }),
          ...(places.reportPath === '' ? {} : { reportPath: places.reportPath }),
        })
      }}
    >
      <h2>Prepare</h2>
      <p className="quiet">
        What is made is kept in the workshop, for this board, and goes on its cards. The originals stay as
        they are.
      </p>
      <PathField
        label="Also write each font as a folder into"
        description="A full path; empty for none. What lies there is never overwritten."
        kinds={['folder']}
        value={into}
        onChange={setInto}
      />
      <PathField
        label="Also write a page about it"
        description="A full path to an .html file; empty for none"
        kinds={[]}
        value={reportPath}
        onChange={setReportPath}
      />
      <div>
        <Button type="submit" disabled={!canRun || isRunning}>
          Prepare the sounds
        </Button>
      </div>
    </form>
  )
}
