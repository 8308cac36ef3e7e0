import { Button, PasswordInput } from '@mantine/core'
import { useState } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { counted } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'
import { PathField } from '../../elements/path-field.tsx'
import { ProgressLine } from '../../elements/progress-line.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'

/** Scans a folder or archive; asks for a password only when an archive wants one, and keeps none. */
export function ScanForm() {
  const [path, setPath] = useState('')
  const [wantsPassword, setWantsPassword] = useState(false)
  const [password, setPassword] = useState('')
  const { now, start } = useLongCall('scan')

  return (
    <form
      className="sheet sheet-stack"
      aria-label="Scan"
      onSubmit={(event) => {
        event.preventDefault()
        const place = path.trim()
        if (place === '' || now.state === 'running') return
        start({ paths: [place], ...(password === '' ? {} : { passwords: { [place]: password } }) })
        setPassword('')
      }}
    >
      <PathField
        label="Folder or zip archive"
        description="Its full path. Sub-folders and archives inside are read too; nothing is changed."
        kinds={['folder', 'archive']}
        value={path}
        onChange={setPath}
      />
      {wantsPassword ? (
        <PasswordInput
          label="Password of the archive"
          description="Used for this scan, never stored"
          value={password}
          onChange={(event) => setPassword(event.currentTarget.value)}
          autoComplete="off"
          maw="24rem"
        />
      ) : null}
      <div className="row">
        <Button type="submit" disabled={path.trim() === ''} loading={now.state === 'running'}>
          Scan
        </Button>
        {!wantsPassword && (
          <Button variant="subtle" onClick={() => setWantsPassword(true)}>
            The archive has a password
          </Button>
        )}
        {now.state === 'running' && (
          <Button variant="default" onClick={now.cancel}>
            Cancel the scan
          </Button>
        )}
      </div>
      {now.state === 'running' && <ProgressLine name={`Scan ${path}`} progress={now.progress} />}
      {now.state === 'failed' && <ErrorNote error={now.error} />}
      {now.state === 'done' && <ScanOutcome report={now.value} />}
    </form>
  )
}

function ScanOutcome({ report }: { readonly report: ResponseOf<'scan'> }) {
  return report.roots.map((root) => {
    const faults = root.problems.filter((problem) => problem.severity === 'fault')
    const nothing = root.editions === 0
    return (
      <Note
        key={root.path}
        role="status"
        tone={nothing || faults.length > 0 ? 'care' : 'good'}
        title={
          nothing
            ? 'No sounds were found there.'
            : `${counted(root.editions, 'font')} with ${counted(root.sounds, 'sound')} found.`
        }
      >
        <p>
          {root.added} new, {root.changed} changed, {root.unchanged} unchanged, {root.relinked} moved,{' '}
          {root.gone} gone.
        </p>
        {root.problems.length > 0 && (
          <ul>
            {root.problems.map((problem) => (
              <li key={`${problem.path} ${problem.code}`}>
                <span className="mono">{problem.path}</span>: {problem.message}
              </li>
            ))}
          </ul>
        )}
      </Note>
    )
  })
}
