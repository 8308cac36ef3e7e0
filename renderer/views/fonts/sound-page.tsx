import type { ResponseOf } from '../../../app/contract/calls.ts'
import type { Sound } from '../../../app/model/sound.ts'
import { fontInWords, formatInWords, lengthInWords, roleInWords } from '../../elements/in-words.ts'
import { FindingsList } from '../../elements/findings-list.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { valueOr } from '../../hooks/loaded.ts'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'
import { PreparedForBoard } from '../prepare/prepared-for-board.tsx'
import { HearSound } from './hear-sound.tsx'
import { SameSounds } from './same-sounds.tsx'
import { SoundFacts } from './sound-facts.tsx'

interface SoundPageProps {
  readonly editionId: string
  readonly soundId: string
  /** The board to look at it for; else the one on the bench. */
  readonly forBoardId?: string
}

/** One sound: its outline, what its file is, how loud it is, what was found, and where it is again. */
export function SoundPage({ editionId, soundId, forBoardId }: SoundPageProps) {
  const onTheBench = useChosenBoard().boardId
  const boardId = forBoardId ?? onTheBench
  const font = useAsk('fonts:show', boardId === undefined ? null : { editionId, boardId })
  return (
    <WhenLoaded loaded={font} what="the sound">
      {(shown) => {
        const sound = shown.edition.sounds.find((one) => one.id === soundId)
        return sound === undefined ? (
          <p role="alert">The last scan has replaced this sound. Go back to its font.</p>
        ) : (
          <ShownSound shown={shown} sound={sound} />
        )
      }}
    </WhenLoaded>
  )
}

function ShownSound({ shown, sound }: { readonly shown: ResponseOf<'fonts:show'>; readonly sound: Sound }) {
  const { edition, findings } = shown
  const { facts } = sound.inspection
  const own = findings.filter((finding) => finding.path === sound.path)
  const about = [
    fontInWords(edition.font.name, edition.version),
    sound.place === null ? 'role not known' : roleInWords(sound.place),
    lengthInWords(facts?.seconds ?? null),
    ...(facts === null ? [] : [formatInWords(facts)]),
  ]
  return (
    <div className="page-stack">
      <PageHead title={sound.path} about={about.join(' · ')}>
        <PageLink to={`/fonts/${edition.id}`}>Back to the font</PageLink>
      </PageHead>
      {shown.board !== null && <ForBoard sound={sound} boardId={shown.board} />}
      {own.length > 0 && (
        <section className="sheet">
          <h2>Found in the original</h2>
          <FindingsList findings={own} />
        </section>
      )}
      <SoundFacts inspection={sound.inspection} />
      <SameSounds soundId={sound.id} />
    </div>
  )
}

/** Heard and compared for the board on the bench. */
function ForBoard({ sound, boardId }: { readonly sound: Sound; readonly boardId: string }) {
  const prepared = useAsk('sounds:prepared', { soundId: sound.id, boardId })
  const boards = valueOr(useAsk('boards:list', {}), undefined)?.boards ?? []
  const boardTitle = boards.find(({ id }) => id === boardId)?.title ?? boardId
  return (
    <WhenLoaded loaded={prepared} what="the sound">
      {(shown) => (
        <>
          <HearSound key={`${boardId} ${shown.after?.sha256 ?? ''}`} sound={shown} />
          <PreparedForBoard editionId={sound.editionId} boardTitle={boardTitle} sound={shown} />
        </>
      )}
    </WhenLoaded>
  )
}
