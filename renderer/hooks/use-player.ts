import { useEffect, useState } from 'react'
import { soundAddress } from '../client/client.ts'
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
  const [audio] = useState(() => new Audio())
  const [soundId, setSoundId] = useState<string | null>(null)
  const [refusedId, setRefusedId] = useState<string | null>(null)
  const [volume, setVolume] = useState(FIRST_VOLUME)

  useEffect(() => {
    const ended = () => setSoundId(null)
    audio.addEventListener('ended', ended)
    return () => {
      audio.removeEventListener('ended', ended)
      audio.pause()
    }
  }, [audio])

  if (about?.playsSounds !== true) return null
  return {
    soundId,
    refusedId,
    volume,
    setVolume(next) {
      audio.volume = next
      setVolume(next)
    },
    toggle(id) {
      audio.pause()
      setRefusedId(null)
      if (soundId === id) return setSoundId(null)
      setSoundId(id)
      audio.volume = volume
      audio.src = soundAddress(id)
      audio.play().catch((fault: unknown) => {
        // Another sound was chosen before this one began.
        if (fault instanceof DOMException && fault.name === 'AbortError') return
        setSoundId(null)
        setRefusedId(id)
      })
    },
  }
}
