import { Button, Checkbox } from '@mantine/core'
import { useState } from 'react'
import { CardCautions } from '../../elements/cautions.tsx'
import { ErrorNote } from '../../elements/error-note.tsx'
import { PathField } from '../../elements/path-field.tsx'
import { ProgressLine } from '../../elements/progress-line.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { VerifyOutcome } from './verify-outcome.tsx'

/** The image of a recorded content, made again byte for byte. */
export function RemakeImage({ fingerprint }: { readonly fingerprint: string }) {
  const status = valueOr(useAsk('workshop:status', {}), undefined)
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
        <PathField
          label="Image file"
          description={
            status === undefined ? 'A full path' : `A full path, or a name in ${status.imagesFolder}`
          }
          kinds={['image-to-write']}
          value={imagePath}
          onChange={setImagePath}
        />
        <Checkbox
          label="Replace an image of this name, if there is one"
          checked={replace}
          onChange={(event) => setReplace(event.currentTarget.checked)}
        />
        <div className="row">
          <Button type="submit" disabled={imagePath.trim() === ''} loading={now.state === 'running'}>
            Remake the image
          </Button>
          {now.state === 'running' && (
            <Button variant="default" onClick={now.cancel}>
              Cancel
            </Button>
          )}
        </div>
        {now.state === 'running' && <ProgressLine name="Remake the image" progress={now.progress} />}
        {now.state === 'failed' && <ErrorNote error={now.error} />}
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
