import { Button } from '@mantine/core'
import type { RefObject } from 'react'
import { ProgressLine } from '../../elements/progress-line.tsx'
import type { Preparing } from '../../hooks/use-preparing.ts'

interface PrepareActsProps {
  readonly place: RefObject<HTMLDivElement | null>
  /** What is prepared. */
  readonly title: string
  readonly canRun: boolean
  readonly running: Preparing['running']
  /** Why the last run did not come to its end. */
  readonly error: Preparing['error']
  /** Whether anything has been told yet: a dry run comes first. */
  readonly hasReport: boolean
  /** The form that the run takes its places from. */
  readonly formId: string
  readonly onDryRun: () => void
}

/**
 * Both acts, how far the one under way has come, and a way out. They stay in sight however far down a
 * long report is read, and take the same room whether anything runs or not.
 */
export function PrepareActs(props: PrepareActsProps) {
  const { place, title, canRun, running, error, hasReport, formId, onDryRun } = props
  const isBusy = running !== null
  // The one that was pressed keeps the focus while it runs.
  const state = { disabled: !canRun, 'data-disabled': isBusy, 'aria-disabled': isBusy }
  return (
    <div className="act-bar" ref={place}>
      <div className="row unbroken">
        <Button
          {...state}
          variant={hasReport ? 'default' : 'filled'}
          onClick={() => {
            if (!isBusy) onDryRun()
          }}
        >
          Dry run
        </Button>
        <Button {...state} variant={hasReport ? 'filled' : 'default'} type="submit" form={formId}>
          Prepare the sounds
        </Button>
      </div>
      {running === null ? (
        <Outcome error={error} />
      ) : (
        <section className="act-under-way" aria-label="Under way">
          <ProgressLine name={`Prepare ${title}`} progress={running.progress} />
          <Button variant="default" onClick={running.cancel}>
            Cancel
          </Button>
        </section>
      )}
    </div>
  )
}

/** How the last run ended where it did not come to its end: here it is in sight wherever the page stands. */
function Outcome({ error }: Pick<PrepareActsProps, 'error'>) {
  if (error === null) {
    return <p className="quiet">A dry run tells what would be done to each sound, and makes nothing.</p>
  }
  return error.code === 'cancelled' ? (
    <p role="status">
      {error.what} {error.mend} What was made until then is kept.
    </p>
  ) : (
    <p className="problem-words">It did not come to its end: {error.what}</p>
  )
}
