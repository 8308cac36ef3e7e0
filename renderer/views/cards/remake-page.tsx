import { useState } from 'react'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import type { CardForm } from '../../hooks/use-card-draft.tsx'
import { CardsPlaces } from './cards-places.tsx'
import { ContentStrip } from './content-strip.tsx'
import { FormChoice } from './form-choice.tsx'
import { RemakeImage } from './remake-image.tsx'
import { RemakeInto } from './remake-into.tsx'

/** A recorded content made again from what the workshop kept: nothing is judged, named or decided anew. */
export function RemakePage({ fingerprint }: { readonly fingerprint: string }) {
  const [form, setForm] = useState<CardForm>('image')
  const shown = useAsk('contents:show', { content: fingerprint })
  return (
    <div className="page-stack">
      <CardsPlaces />
      <WhenLoaded loaded={shown} what="the content">
        {(content) => (
          <>
            <PageHead
              title={`Remake ${content.fingerprint}`}
              about="The same card, byte for byte, from what the workshop kept. Nothing is judged or changed."
            >
              <PageLink to={`/cards/contents/${content.fingerprint}`}>What is on it</PageLink>
            </PageHead>
            <ContentStrip content={content} />
            <FormChoice form={form} onChange={setForm} />
            {form === 'image' ? (
              <section className="sheet sheet-stack" aria-label="Image">
                <h2>Image</h2>
                <RemakeImage fingerprint={content.fingerprint} />
              </section>
            ) : (
              <section className="sheet sheet-stack" aria-label="Card or folder">
                <h2>Card or folder</h2>
                <RemakeInto fingerprint={content.fingerprint} />
              </section>
            )}
          </>
        )}
      </WhenLoaded>
    </div>
  )
}
