import { useEffect, useState } from 'react'
import { soundAddress } from '../client/client.ts'
import { onSoundEnded, playSound, setSoundVolume, stopSound } from '../client/sound-output.ts'
import { valueOr } from './loaded.ts'
import { useAsk } from './use-ask.ts'

/** Quiet enough for headphones that were left turned up. */
const FIRST_VOLUME = 0.25

export interface Player {
  /** Null while nothing plays. */
  readonly soundId: string | null
  /** The last sound that this browser could not play. */
  readonly refusedId: string | null
  readonly volume: number
  setVolume(volume: number): void
  toggle(soundId: string): void
}

/** Plays one original at a time; null where this door serves no sounds. */
export function usePlayer(): Player | null {
  const about = valueOr(useAsk('door:about', {}), null)
  const [soundId, setSoundId] = useState<string | null>(null)
  const [refusedId, setRefusedId] = useState<string | null>(null)
  const [volume, setVolume] = useState(FIRST_VOLUME)

  useEffect(() => {
    const stopListening = onSoundEnded(() => setSoundId(null))
    return () => {
      stopListening()
      stopSound()
    }
  }, [])

  if (about?.playsSounds !== true) return null
  return {
    soundId,
    refusedId,
    volume,
    setVolume(next) {
      setSoundVolume(next)
      setVolume(next)
    },
    toggle(id) {
      stopSound()
      setRefusedId(null)
      if (soundId === id) return setSoundId(null)
      setSoundId(id)
      playSound(soundAddress(id), volume).catch(() => {
        setSoundId(null)
        setRefusedId(id)
      })
    },
  }
}
