import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { CardCautions } from '../../elements/cautions.tsx'
import { LongCallFoot } from '../../elements/long-call-foot.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { Fingerprint } from './fingerprint.tsx'
import { MadeFonts } from './made-fonts.tsx'
import { VerifyOutcome } from './verify-outcome.tsx'

/** A card that was made: its proof, its fingerprint, where it lies, and what to mind. */
export function MadeCard({ made }: { readonly made: ResponseOf<'make'> }) {
  const again = useLongCall('verify')
  return (
    <section className="sheet-stack" aria-label="The card that was made">
      <VerifyOutcome report={made.verify} />
      <Fingerprint fingerprint={made.fingerprint} />
      <dl className="facts">
        <dt>Image</dt>
        <dd className="mono">{made.imagePath}</dd>
        <dt>Size</dt>
        <dd>
          {inUnits(made.imageBytes)}, {inUnits(made.size.usedBytes)} used
        </dd>
        <dt>Image hash</dt>
        <dd className="mono">{made.imageHash}</dd>
      </dl>
      <MadeFonts {...made} />
      <CardCautions ofImage />
      <LongCallFoot
        act="Verify again"
        now={again.now}
        isPlain
        onStart={() => again.start({ target: made.imagePath, against: made.fingerprint })}
      />
      {again.now.state === 'done' && <VerifyOutcome report={again.now.value} />}
    </section>
  )
}
