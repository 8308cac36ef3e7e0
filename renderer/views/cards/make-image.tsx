import { useState } from 'react'
import { useCardDraft } from '../../hooks/use-card-draft.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { PrepareFirst } from '../prepare/prepare-first.tsx'
import type { Card } from './card-of.ts'
import { ImageFields } from './image-fields.tsx'
import { MadeCard } from './made-card.tsx'
import { LongCallFoot } from '../../elements/long-call-foot.tsx'

/** Makes the image, with its progress and a way out, and shows what came of it. */
export function MakeImage({ card }: { readonly card: Card }) {
  const { draft } = useCardDraft()
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
        <ImageFields imagePath={imagePath} onImagePath={setNamed} replace={replace} onReplace={setReplace} />
        <PrepareFirst />
        <LongCallFoot act="Make the image" now={now} isDisabled={imagePath.trim() === ''} />
      </form>
      {now.state === 'done' && <MadeCard made={now.value} />}
    </section>
  )
}
