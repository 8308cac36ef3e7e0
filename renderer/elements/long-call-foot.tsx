import { Button } from '@mantine/core'
import type { ReactNode } from 'react'
import type { LongCallName } from '../../app/contract/door.ts'
import type { LongCall } from '../hooks/use-long-call.ts'
import { ErrorNote } from './error-note.tsx'
import { ProgressLine } from './progress-line.tsx'

interface LongCallFootProps<C extends LongCallName> {
  /** On the button: `Verify` */
  readonly act: string
  /** What the progress is of, where that is more than the act. */
  readonly name?: string
  readonly now: LongCall<C>
  readonly isDisabled?: boolean
  /** For an act beside others. */
  readonly isPlain?: boolean
  readonly cancelWords?: string
  /** Without it the button submits its form. */
  readonly onStart?: () => void
  /** Stands beside the buttons. */
  readonly children?: ReactNode
}

/** Where something long is begun: the act, a way out while it runs, how far it has come, and why it failed. */
export function LongCallFoot<C extends LongCallName>(props: LongCallFootProps<C>) {
  const { act, name = act, now, isDisabled = false, isPlain = false, onStart, children } = props
  return (
    <>
      <div className="row">
        <Button
          {...(isPlain ? { variant: 'default' } : {})}
          {...(onStart === undefined ? { type: 'submit' } : { onClick: onStart })}
          disabled={isDisabled}
          loading={now.state === 'running'}
        >
          {act}
        </Button>
        {now.state === 'running' && (
          <Button variant="default" onClick={now.cancel}>
            {props.cancelWords ?? 'Cancel'}
          </Button>
        )}
        {children}
      </div>
      <LongCallLine name={name} now={now} />
    </>
  )
}

/** How far something long has come, or why it failed. */
export function LongCallLine<C extends LongCallName>({
  name,
  now,
}: {
  readonly name: string
  readonly now: LongCall<C>
}) {
  if (now.state === 'running') return <ProgressLine name={name} progress={now.progress} />
  return now.state === 'failed' ? <ErrorNote error={now.error} /> : null
}
