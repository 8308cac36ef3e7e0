import type { ReactNode } from 'react'
import { Link } from 'wouter'
import type { Build } from '../../../app/model/records.ts'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { fontInWords } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useCardDraft } from '../../hooks/use-card-draft.tsx'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'
import { PrepareFonts } from './prepare-fonts.tsx'

/** Preparing one font. */
export function PrepareFontPage({ editionId }: { readonly editionId: string }) {
  const fonts = useAsk('fonts:list', {})
  return (
    <WhenLoaded loaded={fonts} what="the font">
      {({ fonts: rows }) => {
        const row = rows.find(({ id }) => id === editionId)
        return row === undefined ? (
          <NotThere title="This font is not in the library">
            A scan may have read its folder anew. Choose it again in{' '}
            <Link href="/fonts">the list of fonts</Link>.
          </NotThere>
        ) : (
          <Prepare
            title={fontInWords(row.font.name, row.version)}
            build={undefined}
            editionIds={[editionId]}
            back={{ to: `/fonts/${editionId}`, words: 'Back to the font' }}
          />
        )
      }}
    </WhenLoaded>
  )
}

/** Preparing all fonts of a build, for its board and speaker. */
export function PrepareBuildPage({ id }: { readonly id: string }) {
  return <PrepareBuild isWanted={(build) => build.id === id} />
}

/** Preparing what goes on the card that is being put together. */
export function PrepareCardPage() {
  const { draft } = useCardDraft()
  if (draft.buildCode !== null) return <PrepareBuild isWanted={(build) => build.code === draft.buildCode} />
  return (
    <Prepare
      title="The fonts of a card"
      build={undefined}
      editionIds={draft.editionIds}
      back={{ to: '/cards/make', words: 'Back to the card' }}
    />
  )
}

function PrepareBuild({ isWanted }: { readonly isWanted: (build: Build) => boolean }) {
  const builds = useAsk('builds:list', {})
  return (
    <WhenLoaded loaded={builds} what="the build">
      {({ builds: list }) => {
        const build = list.find(isWanted)
        return build === undefined ? (
          <NotThere title="This build is not on record">
            Choose another in <Link href="/builds">the list of builds</Link>.
          </NotThere>
        ) : (
          <Prepare
            title={`Build ${build.code}`}
            build={build}
            editionIds={build.fontEditionIds}
            back={{ to: `/builds/${build.id}`, words: 'Back to the build' }}
          />
        )
      }}
    </WhenLoaded>
  )
}

function NotThere({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <div className="page-stack">
      <PageHead title="Prepare" />
      <Note tone="care" title={title}>
        <p>{children}</p>
      </Note>
    </div>
  )
}

interface PrepareProps {
  readonly title: string
  readonly build: Build | undefined
  readonly editionIds: readonly string[]
  readonly back: { readonly to: string; readonly words: string }
}

function Prepare({ title, build, editionIds, back }: PrepareProps) {
  const chosen = useChosenBoard()
  const boards = useAsk('boards:list', {})
  const startBoardId = build?.boardId ?? chosen.boardId
  // Another board on the bench begins anew.
  const name = `${build?.id ?? editionIds.join(' ')} for ${startBoardId}`
  return (
    <div className="page-stack">
      <PageHead
        title={`Prepare: ${title}`}
        about="Sounds are made right for the board and even with each other; the originals stay as they are"
      >
        <PageLink to={back.to}>{back.words}</PageLink>
      </PageHead>
      {editionIds.length === 0 ? (
        <Note tone="care" title="There is no font to prepare">
          Tick fonts in <Link href="/fonts">the list of fonts</Link>, or give{' '}
          <Link href="/builds">a build</Link> some.
        </Note>
      ) : (
        <WhenLoaded loaded={boards} what="boards">
          {({ boards: known }) =>
            startBoardId === undefined ? null : (
              <PrepareFonts
                key={name}
                title={title}
                rememberedAs={name}
                build={build}
                editionIds={editionIds}
                startBoardId={startBoardId}
                boards={known}
              />
            )
          }
        </WhenLoaded>
      )}
    </div>
  )
}
