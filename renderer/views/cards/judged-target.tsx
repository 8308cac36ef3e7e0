import { Checkbox } from '@mantine/core'
import { Link } from 'wouter'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { CELL_OUT } from '../../elements/cautions.tsx'
import { counted } from '../../elements/in-words.ts'
import { Mend } from '../../elements/mend.tsx'
import { Note } from '../../elements/note.tsx'

type Report = ResponseOf<'targets:judge'>

interface JudgedTargetProps {
  readonly report: Report
  readonly replace: boolean
  /** Whether writing met what no record knows: of the size it should have, it is only found when it is read. */
  readonly metStrangers: boolean
  readonly isFixed: boolean
  readonly onReplace: (replace: boolean) => void
}

/** What is at a target, what stands against writing there, and what to know before. */
export function JudgedTarget({ report, replace, metStrangers, isFixed, onReplace }: JudgedTargetProps) {
  const { refusal, needsReplace, cautions } = report
  return (
    <section className="sheet-stack" aria-label="What is there">
      <TargetFacts report={report} />
      {refusal !== null && (
        <Note tone={needsReplace ? 'care' : 'bad'} title={refusal.what} role="alert">
          <Mend {...refusal} />
        </Note>
      )}
      {report.strangerCount > 0 && <Strangers report={report} />}
      {(needsReplace || replace || metStrangers) && (
        <Checkbox
          label={`Remove what is there and belongs to no card of ours${report.strangerCount === 0 ? '' : `: ${counted(report.strangerCount, 'file')}`}`}
          checked={replace}
          disabled={isFixed}
          onChange={(event) => onReplace(event.currentTarget.checked)}
        />
      )}
      {refusal === null && (
        <Note tone="care" title="Before it is written">
          <ul>
            {cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
            <li>{CELL_OUT}</li>
          </ul>
        </Note>
      )}
    </section>
  )
}

function TargetFacts({ report }: { readonly report: Report }) {
  const { kind, fileSystem, clusterBytes, sizeBytes, freeBytes, neededBytes, holds } = report
  const room = [
    sizeBytes === null ? '' : `${inUnits(sizeBytes)} in all`,
    freeBytes === null ? '' : `${inUnits(freeBytes)} free`,
    neededBytes === null ? '' : `${inUnits(neededBytes)} needed`,
  ].filter((word) => word !== '')
  return (
    <dl className="facts">
      <dt>Place</dt>
      <dd>
        <span className="mono">{report.into}</span>,{' '}
        {kind === 'card' ? 'a drive of its own' : 'a folder on a disk'}
      </dd>
      <dt>File system</dt>
      <dd>
        {fileSystem === '' ? 'the system does not tell' : fileSystem}
        {clusterBytes !== null && `, clusters of ${inUnits(clusterBytes)}`}
      </dd>
      {room.length > 0 && (
        <>
          <dt>Room</dt>
          <dd>{room.join(', ')}</dd>
        </>
      )}
      <dt>On it now</dt>
      <dd>
        {holds === null ? (
          'no content that its credits name'
        ) : (
          <>
            the content <Link href={`/cards/contents/${holds}`}>{holds}</Link>
          </>
        )}
      </dd>
    </dl>
  )
}

function Strangers({ report }: { readonly report: Report }) {
  const { strangers, strangerCount } = report
  return (
    <details>
      <summary>{counted(strangerCount, 'file')} there that no record and no plan knows</summary>
      <ul>
        {strangers.map((path) => (
          <li key={path} className="mono break">
            {path}
          </li>
        ))}
      </ul>
      {strangerCount > strangers.length && (
        <p className="quiet">and {(strangerCount - strangers.length).toLocaleString('en')} more</p>
      )}
    </details>
  )
}
