import { Button } from '@mantine/core'
import { useState } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { ErrorNote } from '../../elements/error-note.tsx'
import { Icon } from '../../elements/icon.tsx'
import { Note } from '../../elements/note.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useLongCall } from '../../hooks/use-long-call.ts'
import { ChooseTried, type Tried } from './choose-tried.tsx'
import { KnownMark } from './known-mark.tsx'

/** Moves the limits of a board by sounds that were heard in the hilt, or stayed silent. */
export function LearnPage({ boardId }: { readonly boardId: string }) {
  const loaded = useAsk('boards:show', { boardId })
  return (
    <WhenLoaded loaded={loaded} what="the board">
      {({ board }) => (
        <div className="page-stack">
          <PageHead
            title={`Tried in the hilt: ${board.title}`}
            about="A sound that was heard, or stayed silent, teaches what the board takes."
          >
            <PageLink to={`/boards/${board.id}`}>Back to the board</PageLink>
          </PageHead>
          {board.source === 'workshop' ? (
            <Learn boardId={board.id} />
          ) : (
            <Note tone="care" title="A shipped board is never changed.">
              <p>Make one of your own from it; that one can learn.</p>
              <PageLink to={`/boards/make/from/${board.id}`} isMain>
                Make one from it
              </PageLink>
            </Note>
          )}
        </div>
      )}
    </WhenLoaded>
  )
}

function Learn({ boardId }: { readonly boardId: string }) {
  const { now, start, reset } = useLongCall('boards:learn')
  const [tried, setTried] = useState<readonly Tried[]>([])
  const change = (next: readonly Tried[]) => {
    reset()
    setTried(next)
  }
  const namesOf = (mark: Tried['mark'], kind: Tried['kind']) =>
    tried.filter((each) => each.mark === mark && each.kind === kind).map(({ id }) => id)
  return (
    <>
      <ChooseTried onTried={(sound) => change([...tried.filter(({ id }) => id !== sound.id), sound])} />
      <section className="sheet sheet-stack" aria-labelledby="tried">
        <h2 id="tried">What was tried</h2>
        {tried.length === 0 ? (
          <p className="quiet">
            Nothing yet. A silent sound teaches most beside one that was heard and differs from it in one
            thing alone.
          </p>
        ) : (
          <ul className="choice-list" aria-labelledby="tried">
            {tried.map((sound) => (
              <li key={sound.id} className="row">
                <span className="row">
                  <span className={`mark ${sound.mark === 'heard' ? 'tone-good' : 'tone-care'}`}>
                    {sound.mark}
                  </span>
                  <span className="mono break">{sound.name}</span>
                </span>
                <button
                  type="button"
                  className="small-button"
                  aria-label={`Take off: ${sound.name}`}
                  onClick={() => change(tried.filter(({ id }) => id !== sound.id))}
                >
                  <Icon name="remove" />
                </button>
              </li>
            ))}
          </ul>
        )}
        <div>
          <Button
            disabled={tried.length === 0}
            loading={now.state === 'running'}
            onClick={() =>
              start({
                boardId,
                heard: namesOf('heard', 'file'),
                silent: namesOf('silent', 'file'),
                heardSounds: namesOf('heard', 'sound'),
                silentSounds: namesOf('silent', 'sound'),
              })
            }
          >
            Move the limits by it
          </Button>
        </div>
        {now.state === 'failed' && <ErrorNote error={now.error} />}
        {now.state === 'done' && <Learned learned={now.value} />}
      </section>
    </>
  )
}

function Learned({ learned: { moves, unclear } }: { readonly learned: ResponseOf<'boards:learn'> }) {
  return (
    <>
      <Note
        tone={moves.length > 0 ? 'good' : 'unknown'}
        role="status"
        title={moves.length > 0 ? 'Limits were moved, and are kept in the board file.' : 'No limit moved.'}
      >
        {moves.length > 0 && (
          <ul>
            {moves.map(({ limit, because, known }) => (
              <li key={limit}>
                {because} Now <KnownMark known={known} />
              </li>
            ))}
          </ul>
        )}
      </Note>
      {unclear.length > 0 && (
        <Note tone="care" title="Nothing was learned from:">
          <ul>
            {unclear.map(({ path, why }) => (
              <li key={path}>
                <span className="mono break">{path}</span>: {why}
              </li>
            ))}
          </ul>
        </Note>
      )}
    </>
  )
}
