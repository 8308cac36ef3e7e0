import { Button } from '@mantine/core'
import { useLocation } from 'wouter'
import { Note } from '../../elements/note.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useCardDraft } from '../../hooks/use-card-draft.tsx'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'
import { BuildCards } from './build-cards.tsx'
import { BuildConfigs } from './build-configs.tsx'
import { BuildForm } from './build-form.tsx'
import { BuildSounds } from './build-sounds.tsx'
import { RecordsPlaces } from './records-places.tsx'

/** A build that is added (`new`) or shown and changed. */
export function BuildPage({ id }: { readonly id: string }) {
  const builds = useAsk('builds:list', {})
  const fonts = useAsk('fonts:list', {})
  const boards = useAsk('boards:list', {})
  const { boardId } = useChosenBoard()
  const { change } = useCardDraft()
  const [, go] = useLocation()
  return (
    <div className="page-stack">
      <RecordsPlaces />
      <WhenLoaded loaded={builds} what="the build">
        {({ builds: list }) => {
          const build = list.find((each) => each.id === id)
          if (build === undefined && id !== 'new') {
            return <Note tone="care" title="This build is not on record." />
          }
          return (
            <>
              <PageHead title={build === undefined ? 'New build' : `Build ${build.code}`}>
                {build !== undefined && build.fontEditionIds.length > 0 && (
                  <PageLink to={`/fonts/prepare/build/${build.id}`}>Prepare its fonts</PageLink>
                )}
                {build !== undefined && build.fontEditionIds.length > 0 && (
                  <Button
                    onClick={() => {
                      change({ buildCode: build.code, accepted: [] })
                      go('/cards/make')
                    }}
                  >
                    Make its card
                  </Button>
                )}
              </PageHead>
              <WhenLoaded loaded={fonts} what="fonts">
                {({ fonts: rows }) => (
                  <WhenLoaded loaded={boards} what="boards">
                    {({ boards: known }) => (
                      <>
                        <BuildForm
                          key={build?.id ?? 'new'}
                          build={build}
                          rows={rows}
                          boards={known}
                          usualBoardId={boardId}
                        />
                        {build !== undefined && <BuildSounds build={build} rows={rows} />}
                        {build !== undefined && <BuildConfigs id={build.id} />}
                        {build !== undefined && <BuildCards code={build.code} />}
                      </>
                    )}
                  </WhenLoaded>
                )}
              </WhenLoaded>
            </>
          )
        }}
      </WhenLoaded>
    </div>
  )
}
