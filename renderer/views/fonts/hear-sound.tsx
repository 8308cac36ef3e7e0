import type { RequestOf, ResponseOf } from '../../../app/contract/calls.ts'
import type { TakeName } from '../../../app/model/two-takes.ts'
import type { Standing } from '../../client/two-takes-player.ts'
import { TakesPlayer } from '../../elements/takes-player.tsx'
import { WaveformStrip } from '../../elements/waveform-strip.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useSoundTakes } from '../../hooks/use-sound-takes.ts'
import { useStanding } from '../../hooks/use-two-takes.ts'
import { loudnessInWords } from '../prepare/prepared-in-words.ts'

/** A sound to look at and to hear: the outlines of its original and prepared take, and their player. */
export function HearSound({ sound }: { readonly sound: ResponseOf<'sounds:prepared'> }) {
  const { soundId, board, before, after, isLoop } = sound
  const takes = useSoundTakes(sound)
  const standing = useStanding(takes)
  const hasPrepared = after !== null
  return (
    <section className="sheet sheet-stack" aria-label="Outline">
      <Outline
        request={{ soundId }}
        heading={hasPrepared ? 'A, the original' : null}
        seconds={before.seconds}
        at={placeIn(standing, 'original')}
      />
      {hasPrepared && (
        <Outline
          request={{ soundId, preparedForBoardId: board }}
          heading="B, as prepared"
          seconds={after.seconds}
          at={placeIn(standing, 'prepared')}
        />
      )}
      {takes !== null && (
        <TakesPlayer
          takes={takes}
          standing={standing}
          hasPrepared={hasPrepared}
          isLoop={isLoop}
          loudness={hasPrepared ? loudnessInWords(sound.matchedLoudness) : null}
        />
      )}
    </section>
  )
}

interface OutlineProps {
  readonly request: RequestOf<'sounds:waveform'>
  /** Null where there is only one. */
  readonly heading: string | null
  readonly seconds: number | null
  readonly at: number | null
}

function Outline({ request, heading, seconds, at }: OutlineProps) {
  const outline = useAsk('sounds:waveform', request)
  return (
    <div className={heading === null ? undefined : 'outline-of-two'}>
      {heading !== null && <h2>{heading}</h2>}
      <WhenLoaded loaded={outline} what="the outline">
        {({ waveform }) =>
          waveform === null ? (
            <p className="quiet">There is no outline of this sound: no samples could be read.</p>
          ) : (
            <WaveformStrip {...waveform} seconds={seconds} at={at} />
          )
        }
      </WhenLoaded>
    </div>
  )
}

/** What is heard now of one take, 0 at its beginning and 1 at its end. */
function placeIn(standing: Standing | null, take: TakeName): number | null {
  return standing?.take === take ? standing.seconds / standing.lengthSeconds : null
}
