import { useState, type ReactNode } from 'react'
import type { RequestOf } from '../../../app/contract/calls.ts'
import { LongCallFoot, LongCallLine } from '../../elements/long-call-foot.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import type { LongCall } from '../../hooks/use-long-call.ts'
import { ChooseDrive } from './choose-drive.tsx'
import { JudgedTarget } from './judged-target.tsx'

interface WriteIntoProps {
  /** What is to be written: a selection, or a recorded content. */
  readonly asked: Omit<RequestOf<'targets:judge'>, 'into' | 'replace'>
  /** `Write the card` */
  readonly act: string
  readonly isReady: boolean
  readonly now: LongCall<'make:into'> | LongCall<'contents:remake-into'>
  readonly onWrite: (target: { readonly into: string; readonly replace?: boolean }) => void
  /** What else is to be decided before. */
  readonly children?: ReactNode
}

/** From a drive or a folder to the act: what is there, what stands against it, what would be overwritten, an explicit word. */
export function WriteInto(props: WriteIntoProps) {
  const { now } = props
  const [into, setInto] = useState<string | null>(null)
  return (
    <div className="sheet-stack">
      <ChooseDrive into={into} isDisabled={now.state === 'running'} onChoose={setInto} />
      {into !== null && <Target key={into} into={into} {...props} />}
      {/* A job that was begun before this page was opened anew has no target here. */}
      {into === null && (
        <>
          <LongCallLine name={props.act} now={now} />
          <LeaveItIn now={now} />
        </>
      )}
    </div>
  )
}

function Target({ into, asked, act, isReady, now, onWrite, children }: WriteIntoProps & { into: string }) {
  const [replace, setReplace] = useState(false)
  const target = { into, ...(replace ? { replace } : {}) }
  const judged = useAsk('targets:judge', isReady ? { ...asked, ...target } : null)
  const mayBeWritten = valueOr(judged, undefined)?.refusal === null
  return (
    <>
      <WhenLoaded loaded={judged} what="what is there">
        {(report) => (
          <JudgedTarget
            report={report}
            replace={replace}
            metStrangers={now.state === 'failed' && now.error.code === 'target/strangers'}
            isFixed={now.state === 'running'}
            onReplace={setReplace}
          />
        )}
      </WhenLoaded>
      {children}
      <LongCallFoot
        act={act}
        now={now}
        isDisabled={!isReady || !mayBeWritten}
        onStart={() => onWrite(target)}
      />
      <LeaveItIn now={now} />
    </>
  )
}

function LeaveItIn({ now }: Pick<WriteIntoProps, 'now'>) {
  return now.state === 'running' ? <p className="quiet">Leave the card in until it is done.</p> : null
}
