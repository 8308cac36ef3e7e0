import type { ResponseOf } from '../../../app/contract/calls.ts'
import { TakesPlayer } from '../../elements/takes-player.tsx'
import { WaveformStrip } from '../../elements/waveform-strip.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useSoundTakes } from '../../hooks/use-sound-takes.ts'
import { useStanding } from '../../hooks/use-two-takes.ts'
import { loudnessInWords } from '../prepare/prepared-in-words.ts'

/** A sound to look at and to hear: its outline, and its original and prepared take. */
export function HearSound({ sound }: { readonly sound: ResponseOf<'sounds:prepared'> }) {
  const takes = useSoundTakes(sound)
  const standing = useStanding(takes)
  const outline = useAsk('sounds:waveform', { soundId: sound.soundId })
  const hasPrepared = sound.after !== null
  return (
    <section className="sheet sheet-stack" aria-label="Outline">
      <WhenLoaded loaded={outline} what="the outline">
        {({ waveform }) =>
          waveform === null ? (
            <p className="quiet">There is no outline of this sound: no samples could be read.</p>
          ) : (
            <WaveformStrip
              {...waveform}
              seconds={sound.before.seconds}
              at={standing === null ? null : standing.seconds / standing.lengthSeconds}
            />
          )
        }
      </WhenLoaded>
      {takes !== null && (
        <TakesPlayer
          takes={takes}
          standing={standing}
          hasPrepared={hasPrepared}
          isLoop={sound.isLoop}
          loudness={hasPrepared ? loudnessInWords(sound.matchedLoudness) : null}
        />
      )}
    </section>
  )
}
