import { Button } from '@mantine/core'
import { useState } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { momentInWords } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChange } from '../../hooks/use-change.ts'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { ScanForm } from './scan-form.tsx'

type Roots = ResponseOf<'roots:list'>

/** Scanning, and what has been scanned before. */
export function RootsPage() {
  const roots = useAsk('roots:list', {})
  return (
    <div className="page-stack">
      <PageHead title="Scan and scanned places" />
      <ScanForm />
      <WhenLoaded loaded={roots} what="scanned places">
        {({ roots: list, problems }) =>
          list.length === 0 ? (
            <p className="quiet">No folder or archive has been scanned yet.</p>
          ) : (
            <RootsTable roots={list} problems={problems} />
          )
        }
      </WhenLoaded>
    </div>
  )
}

function RootsTable({ roots, problems }: Roots) {
  const remove = useChange('roots:remove')
  const scan = useLongCall('scan')
  const [asked, setAsked] = useState<string | null>(null)
  const about = roots.find((root) => root.id === asked)
  return (
    <section className="sheet-stack" aria-label="Scanned places">
      <h2>Scanned places</h2>
      <div className="table-frame">
        <table className="table">
          <thead>
            <tr>
              <th>Place</th>
              <th>Kind</th>
              <th>Last scan</th>
              <th>Told by the scan</th>
              <th>
                <span className="only-heard">Acts</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {roots.map((root) => (
              <tr key={root.id}>
                <td className="mono break">{root.path}</td>
                <td>{root.kind}</td>
                <td>{root.lastScanAt === null ? 'not finished' : momentInWords(root.lastScanAt)}</td>
                <td>
                  <Problems problems={problems.filter((problem) => problem.rootId === root.id)} />
                </td>
                <td>
                  <span className="row">
                    <Button
                      size="sm"
                      variant="default"
                      aria-label={`Scan again: ${root.path}`}
                      onClick={() => scan.start({ paths: [root.path] })}
                    >
                      Scan again
                    </Button>
                    <Button
                      size="sm"
                      variant="default"
                      aria-label={`Remove ${root.path}`}
                      onClick={() => setAsked(root.id)}
                    >
                      Remove
                    </Button>
                  </span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {scan.now.state === 'failed' && <ErrorNote error={scan.now.error} />}
      {about !== undefined && (
        <Note tone="care" title={`Remove ${about.path} from the library?`} role="alert">
          <p>
            Its fonts are marked gone and leave the verdicts. Licences, builds and cards made from them stay
            on record, and no file is deleted. Scanning the place again brings them back.
          </p>
          <div className="row">
            <Button
              size="sm"
              color="brick"
              loading={remove.isRunning}
              onClick={() => void remove.run({ rootId: about.id }).then((done) => done && setAsked(null))}
            >
              Remove it from the library
            </Button>
            <Button size="sm" variant="default" onClick={() => setAsked(null)}>
              Keep
            </Button>
          </div>
          {remove.error !== null && <ErrorNote error={remove.error} />}
        </Note>
      )}
    </section>
  )
}

function Problems({ problems }: { readonly problems: Roots['problems'] }) {
  const faults = problems.filter((problem) => problem.severity === 'fault').length
  if (problems.length === 0) return 'nothing'
  return (
    <details>
      <summary>
        {faults} not read, {problems.length - faults} left out
      </summary>
      <ul>
        {problems.map((problem) => (
          <li key={`${problem.path} ${problem.code}`} className="break">
            <span className="mono">{problem.path}</span>: {problem.message}
          </li>
        ))}
      </ul>
    </details>
  )
}
