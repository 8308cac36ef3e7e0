import { useState } from 'react'
import { CardCautions } from '../../elements/cautions.tsx'
import { LongCallFoot } from '../../elements/long-call-foot.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { ImageFields } from './image-fields.tsx'
import { VerifyOutcome } from './verify-outcome.tsx'

/** The image of a recorded content, made again byte for byte. */
export function RemakeImage({ fingerprint }: { readonly fingerprint: string }) {
  const [imagePath, setImagePath] = useState(`${fingerprint}.img`)
  const [replace, setReplace] = useState(false)
  const { now, start } = useLongCall('contents:remake', `remake ${fingerprint}`)
  return (
    <>
      <form
        className="sheet-stack"
        onSubmit={(event) => {
          event.preventDefault()
          if (now.state === 'running') return
          start({ content: fingerprint, imagePath: imagePath.trim(), ...(replace ? { replace } : {}) })
        }}
      >
        <ImageFields
          imagePath={imagePath}
          onImagePath={setImagePath}
          replace={replace}
          onReplace={setReplace}
        />
        <LongCallFoot act="Remake the image" now={now} isDisabled={imagePath.trim() === ''} />
      </form>
      {now.state === 'done' && (
        <section className="sheet-stack" aria-label="The image that was made again">
          <VerifyOutcome report={now.value.verify} />
          <dl className="facts">
            <dt>Image</dt>
            <dd className="mono">{now.value.imagePath}</dd>
            <dt>Image hash</dt>
            <dd>
              <span className="mono">{now.value.imageHash}</span>, as first made
            </dd>
          </dl>
          <CardCautions ofImage />
        </section>
      )}
    </>
  )
}
