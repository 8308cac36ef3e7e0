import { useState } from 'react'
import { LongCallFoot } from '../../elements/long-call-foot.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PathField } from '../../elements/path-field.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { CardsPlaces } from './cards-places.tsx'
import { DriveShortcuts } from './drive-shortcuts.tsx'
import { VerifyOutcome } from './verify-outcome.tsx'

/** Reads an image or a card's folder back and compares it with a record. */
export function VerifyPage({ fingerprint }: { readonly fingerprint?: string }) {
  const [target, setTarget] = useState('')
  const { now, start } = useLongCall('verify')
  return (
    <div className="page-stack">
      <CardsPlaces />
      <PageHead
        title={fingerprint === undefined ? 'Verify' : `Verify against ${fingerprint}`}
        about={
          fingerprint === undefined
            ? 'The record is found by the fingerprint on the card itself.'
            : 'Every file is read back and compared with this record.'
        }
      />
      <form
        className="sheet sheet-stack"
        onSubmit={(event) => {
          event.preventDefault()
          start({ target: target.trim(), ...(fingerprint === undefined ? {} : { against: fingerprint }) })
        }}
      >
        <PathField
          label="Image file, or folder of a card"
          description="A bare file name lies in the workshop's images folder"
          kinds={['image-to-read', 'folder']}
          value={target}
          onChange={setTarget}
        />
        <DriveShortcuts onChoose={setTarget} />
        <LongCallFoot act="Verify" now={now} isDisabled={target.trim() === ''} />
        {now.state === 'done' && <VerifyOutcome report={now.value} />}
      </form>
    </div>
  )
}
