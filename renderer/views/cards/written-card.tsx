import type { ReactNode } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { CardCautions } from '../../elements/cautions.tsx'
import { counted } from '../../elements/in-words.ts'
import { LongCallFoot } from '../../elements/long-call-foot.tsx'
import { Note } from '../../elements/note.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { Fingerprint } from './fingerprint.tsx'
import { VerifyOutcome } from './verify-outcome.tsx'

type Written = ResponseOf<'contents:remake-into'>

interface WrittenCardProps {
  readonly card: Pick<Written, 'fingerprint' | 'written' | 'verify'>
  /** What else there is to tell of it. */
  readonly children?: ReactNode
}

/** A card whose files were written to a drive or a folder: its proof so far, what to do now, and the proof to come. */
export function WrittenCard({ card, children }: WrittenCardProps) {
  const { fingerprint, written, verify } = card
  return (
    <section className="sheet-stack" aria-label="The card that was written">
      <VerifyOutcome report={verify} />
      <Fingerprint fingerprint={fingerprint} />
      <dl className="facts">
        <dt>Written to</dt>
        <dd>
          <span className="mono">{written.into}</span>
          {written.fileSystem !== '' && `, ${written.fileSystem}`}
        </dd>
        <dt>Files</dt>
        <dd>
          {counted(written.filesWritten, 'file')} of {inUnits(written.bytesWritten)} written,{' '}
          {counted(written.filesLeft, 'file')} right already and left as{' '}
          {written.filesLeft === 1 ? 'it was' : 'they were'}
        </dd>
        {written.litterRemoved.length > 0 && (
          <>
            <dt>Litter</dt>
            <dd>{counted(written.litterRemoved.length, 'thing')} of operating systems taken away</dd>
          </>
        )}
      </dl>
      {written.wasReseated && (
        <p>Free places in the used directory would have broken the play order: everything was seated anew.</p>
      )}
      {written.removed.length > 0 && <Removed paths={written.removed} />}
      {children}
      {written.next.length > 0 && (
        <Note tone="care" title="Now">
          <ol>
            {written.next.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        </Note>
      )}
      <ReadBack written={written} fingerprint={fingerprint} />
      <CardCautions ofImage={false} />
    </section>
  )
}

function Removed({ paths }: { readonly paths: readonly string[] }) {
  return (
    <details>
      <summary>{counted(paths.length, 'file')} taken away</summary>
      <ul>
        {paths.map((path) => (
          <li key={path} className="mono break">
            {path}
          </li>
        ))}
      </ul>
    </details>
  )
}

/** Reading at once may only read the computer's own memory; this is for after the card was out. */
function ReadBack({ written, fingerprint }: Pick<Written, 'written' | 'fingerprint'>) {
  const { now, start } = useLongCall('verify')
  return (
    <>
      <LongCallFoot
        act="Read the card back"
        now={now}
        isPlain
        onStart={() => start({ target: written.into, against: fingerprint })}
      >
        {written.kind === 'card' && <span className="quiet">once it was out and is in again</span>}
      </LongCallFoot>
      {now.state === 'done' && <VerifyOutcome report={now.value} />}
    </>
  )
}
