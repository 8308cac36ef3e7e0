import { Button, Checkbox } from '@mantine/core'
import { useState } from 'react'
import { ErrorNote } from '../../elements/error-note.tsx'
import { PathField } from '../../elements/path-field.tsx'
import { ProgressLine } from '../../elements/progress-line.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { useCardDraft } from '../../hooks/use-card-draft.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { PrepareFirst } from '../prepare/prepare-first.tsx'
import type { Card } from './card-of.ts'
import { MadeCard } from './made-card.tsx'

/** Makes the image, with its progress and a way out, and shows what came of it. */
export function MakeImage({ card }: { readonly card: Card }) {
  const { draft } = useCardDraft()
  const status = valueOr(useAsk('workshop:status', {}), undefined)
  const [named, setNamed] = useState<string | null>(null)
  const [replace, setReplace] = useState(false)
  const { now, start } = useLongCall('make', 'make image')
  const imagePath = named ?? `${card.build?.code ?? 'card'}.img`

  return (
    <section className="sheet sheet-stack" aria-label="Image">
      <h2>Image</h2>
      <form
        className="sheet-stack"
        onSubmit={(event) => {
          event.preventDefault()
          if (now.state === 'running' || card.isSizeUnread) return
          start({
            ...card.selection,
            imagePath: imagePath.trim(),
            ...(card.size === undefined ? {} : { cardBytes: card.size.cardBytes }),
            ...(replace ? { replace } : {}),
            ...(draft.prepareFirst ? { prepare: true } : {}),
            ...(draft.accepted.length === 0 ? {} : { accept: [...draft.accepted] }),
          })
        }}
      >
        <PathField
          label="Image file"
          description={
            status === undefined ? 'A full path' : `A full path, or a name in ${status.imagesFolder}`
          }
          kinds={['image-to-write']}
          value={imagePath}
          onChange={setNamed}
        />
        <Checkbox
          label="Replace an image of this name, if there is one"
          checked={replace}
          onChange={(event) => setReplace(event.currentTarget.checked)}
        />
        <PrepareFirst />
        <div className="row">
          <Button type="submit" disabled={imagePath.trim() === ''} loading={now.state === 'running'}>
            Make the image
          </Button>
          {now.state === 'running' && (
            <Button variant="default" onClick={now.cancel}>
              Cancel
            </Button>
          )}
        </div>
        {now.state === 'running' && <ProgressLine name="Make the image" progress={now.progress} />}
        {now.state === 'failed' && <ErrorNote error={now.error} />}
      </form>
      {now.state === 'done' && <MadeCard made={now.value} />}
    </section>
  )
}
