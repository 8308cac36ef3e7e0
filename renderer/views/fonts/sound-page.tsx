import { Button } from '@mantine/core'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import type { Sound } from '../../../app/model/sound.ts'
import { fontInWords, formatInWords, lengthInWords, roleInWords } from '../../elements/in-words.ts'
import { FindingsList } from '../../elements/findings-list.tsx'
import { Icon } from '../../elements/icon.tsx'
import { PageHead } from '../../elements/page-head.tsx'
import { PageLink } from '../../elements/page-link.tsx'
import { WaveformStrip } from '../../elements/waveform-strip.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChosenBoard } from '../../hooks/use-chosen-board.tsx'
import { usePlayer } from '../../hooks/use-player.ts'
import { SameSounds } from './same-sounds.tsx'
import { SoundFacts } from './sound-facts.tsx'

interface SoundPageProps {
  readonly editionId: string
  readonly soundId: string
}

/** One sound: its outline, what its file is, how loud it is, what was found, and where it is again. */
export function SoundPage({ editionId, soundId }: SoundPageProps) {
  const { boardId } = useChosenBoard()
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
      <SoundOutline sound={sound} />
      {own.length > 0 && (
        <section className="sheet">
          <h2>Found</h2>
          <FindingsList findings={own} />
        </section>
      )}
      <SoundFacts inspection={sound.inspection} />
      <SameSounds soundId={sound.id} />
    </div>
  )
}

function SoundOutline({ sound }: { readonly sound: Sound }) {
  const player = usePlayer()
  const outline = useAsk('sounds:waveform', { soundId: sound.id })
  const isPlaying = player?.soundId === sound.id
  return (
    <section className="sheet sheet-stack" aria-label="Outline">
      <WhenLoaded loaded={outline} what="the outline">
        {({ waveform }) =>
          waveform === null ? (
            <p className="quiet">There is no outline of this sound: no samples could be read.</p>
          ) : (
            <WaveformStrip {...waveform} seconds={sound.inspection.facts?.seconds ?? null} />
          )
        }
      </WhenLoaded>
      {player !== null && (
        <div className="row">
          <Button
            variant="default"
            leftSection={<Icon name={isPlaying ? 'stop' : 'play'} />}
            onClick={() => player.toggle(sound.id)}
          >
            {isPlaying ? 'Stop' : 'Play'}
          </Button>
          <span className="quiet">The original as it is, quietly at first.</span>
          {player.refusedId === sound.id && (
            <span role="alert">This browser cannot play it, or its file is gone.</span>
          )}
        </div>
      )}
    </section>
  )
}
