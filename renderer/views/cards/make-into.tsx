import { useCardDraft } from '../../hooks/use-card-draft.tsx'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { PrepareFirst } from '../prepare/prepare-first.tsx'
import type { Card } from './card-of.ts'
import { MadeFonts } from './made-fonts.tsx'
import { WriteInto } from './write-into.tsx'
import { WrittenCard } from './written-card.tsx'

/** Makes the card file by file into a drive or a folder, and shows what came of it. */
export function MakeInto({ card }: { readonly card: Card }) {
  const { draft } = useCardDraft()
  const { now, start } = useLongCall('make:into', 'make into')
  const what = {
    ...card.selection,
    ...(card.size === undefined ? {} : { cardBytes: card.size.cardBytes }),
  }
  return (
    <section className="sheet sheet-stack" aria-label="Card or folder">
      <h2>Card or folder</h2>
      <WriteInto
        asked={what}
        act="Write the card"
        isReady={!card.isSizeUnread}
        now={now}
        onWrite={(target) =>
          start({
            ...what,
            ...target,
            ...(draft.prepareFirst ? { prepare: true } : {}),
            ...(draft.accepted.length === 0 ? {} : { accept: [...draft.accepted] }),
          })
        }
      >
        <PrepareFirst />
      </WriteInto>
      {now.state === 'done' && (
        <WrittenCard card={now.value}>
          <MadeFonts {...now.value} />
        </WrittenCard>
      )}
    </section>
  )
}
