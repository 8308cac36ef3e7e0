import { TakesPlayer } from '../../elements/takes-player.tsx'
import { useSoundTakes, type SoundToHear } from '../../hooks/use-sound-takes.ts'
import { useStanding } from '../../hooks/use-two-takes.ts'
import { loudnessInWords } from './prepared-in-words.ts'

/** A sound that was just prepared, as A and B, without leaving its table. */
export function HearTakes({ sound }: { readonly sound: SoundToHear }) {
  const takes = useSoundTakes(sound)
  const standing = useStanding(takes)
  if (takes === null) return <p className="quiet">This window plays no sounds.</p>
  return (
    <TakesPlayer
      takes={takes}
      standing={standing}
      hasPrepared={sound.after !== null}
      isLoop={sound.isLoop}
      loudness={loudnessInWords(sound.matchedLoudness)}
    />
  )
}
