import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { counted } from '../../elements/in-words.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { useCardDraft } from '../../hooks/use-card-draft.tsx'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'
import { FirstStart } from '../first-start/first-start.tsx'
import { FontsList } from './fonts-list.tsx'

export function FontsPage() {
  const { boardId } = useChosenBoard()
  const { draft } = useCardDraft()
  const status = useAsk('workshop:status', {})
  const roots = useAsk('roots:list', {})
  const fonts = useAsk('fonts:list', boardId === undefined ? null : { boardId })
  if (
    status.state === 'ready' &&
    roots.state === 'ready' &&
    status.value.fontCount === 0 &&
    roots.value.roots.length === 0
  ) {
    return <FirstStart />
  }
  // A library that cannot be read must not hide behind a board that is not chosen.
  const shown = status.state === 'failed' ? status : fonts
  return (
    <div className="page-fill">
      <PageHead
        title="Fonts"
        about={fonts.state === 'ready' ? counted(fonts.value.fonts.length, 'font') : undefined}
      >
        <PageLink to="/fonts/places">Scan and scanned places</PageLink>
        {draft.buildCode === null && draft.editionIds.length > 0 && (
          <PageLink to="/fonts/prepare/card">Prepare {counted(draft.editionIds.length, 'font')}</PageLink>
        )}
        <PageLink to="/cards/make" isMain>
          {draft.buildCode === null && draft.editionIds.length > 0
            ? `Make a card with ${counted(draft.editionIds.length, 'font')}`
            : 'Make a card'}
        </PageLink>
      </PageHead>
      <WhenLoaded loaded={shown} what="fonts">
        {(value) => ('fonts' in value ? <FontsList rows={value.fonts} /> : null)}
      </WhenLoaded>
    </div>
  )
}
