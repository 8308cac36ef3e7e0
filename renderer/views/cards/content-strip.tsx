import { CardStrip } from '../../elements/card-strip.tsx'
import { stretchesOfContent } from './card-stretches.ts'
import type { ShownContent } from './content-page.tsx'

/** The card of a content as one strip, in play order. */
export function ContentStrip({ content }: { readonly content: ShownContent }) {
  return (
    <section className="sheet sheet-stack" aria-label="The card">
      <CardStrip stretches={stretchesOfContent(content)} freeBytes={content.freeBytes} missingBytes={0} />
    </section>
  )
}
