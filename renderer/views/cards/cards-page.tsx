import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { CardsPlaces } from './cards-places.tsx'
import { ContentsList } from './contents-list.tsx'

/** Every content that was made, the newest first: what is on it, proof of it, and the same again. */
export function CardsPage() {
  const contents = useAsk('contents:list', {})
  return (
    <div className="page-stack">
      <CardsPlaces />
      <PageHead title="Cards" about="What was made, what is on it, and the same again">
        <PageLink to="/cards/make" isMain>
          Make a card
        </PageLink>
      </PageHead>
      <WhenLoaded loaded={contents} what="cards">
        {(value) => <ContentsList contents={value.contents} />}
      </WhenLoaded>
    </div>
  )
}
