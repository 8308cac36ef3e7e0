import { LongCallFoot } from '../../elements/long-call-foot.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { ScanForm } from '../fonts/scan-form.tsx'

/** An empty workshop: look at a demo, or begin with fonts of one's own. */
export function FirstStart() {
  const { now, start } = useLongCall('demo:prepare')
  return (
    <div className="page-stack">
      <PageHead title="Your workshop is empty" about="Begin with your own fonts, or look around first." />
      <div className="choices">
        <section className="sheet-stack" aria-label="Your fonts">
          <h2>Your fonts</h2>
          <ScanForm />
        </section>
        <section className="sheet-stack" aria-label="A demo workshop">
          <h2>A demo workshop</h2>
          <div className="sheet sheet-stack">
            <p>
              Six invented fonts with synthesised sounds, some with faults on purpose, three builds, and one
              card made and verified. It can be removed like any other scanned place.
            </p>
            <LongCallFoot
              act="Make the demo workshop"
              now={now}
              isPlain
              cancelWords="Cancel the demo"
              onStart={() => start({})}
            />
          </div>
        </section>
      </div>
    </div>
  )
}
