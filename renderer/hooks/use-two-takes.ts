import { useEffect, useRef, useState } from 'react'
import type { TakeName } from '../../app/model/two-takes.ts'
import type { AppError } from '../../app/errors/app-error.ts'
import {
  openTwoTakesPlayer,
  type Standing,
  type TakeToHear,
  type TwoTakesPlayer,
} from '../client/two-takes-player.ts'
import { asAppError, valueOr } from './loaded.ts'
import { useAsk } from './use-ask.ts'

/** Quiet enough for headphones that were left turned up. */
const FIRST_VOLUME = 0.25

export type TakesToHear = Readonly<Partial<Record<TakeName, TakeToHear>>>

export interface TwoTakes {
  /** Null while nothing plays. */
  readonly playing: TakeName | null
  /** While bytes are fetched and decoded. */
  readonly waitingFor: TakeName | null
  /** Why a take cannot be heard, where that was tried. */
  readonly refused: Readonly<Partial<Record<TakeName, AppError>>>
  readonly volume: number
  setVolume(volume: number): void
  /** Begins a take or changes over to it; ends it where it plays. */
  toggle(name: TakeName): void
  stop(): void
  /** Asked for whenever the screen is drawn; null while nothing plays. */
  standing(): Standing | null
}

/** Plays the takes of one sound, one at a time, until the view is left; null where this door serves no sounds. */
export function useTwoTakes(takes: TakesToHear): TwoTakes | null {
  const about = valueOr(useAsk('door:about', {}), null)
  const [playing, setPlaying] = useState<TakeName | null>(null)
  const [waitingFor, setWaitingFor] = useState<TakeName | null>(null)
  const [refused, setRefused] = useState<TwoTakes['refused']>({})
  const [volume, setVolume] = useState(FIRST_VOLUME)
  const player = useRef<TwoTakesPlayer | null>(null)

  useEffect(
    () => () => {
      player.current?.close()
      player.current = null
    },
    [],
  )

  if (about?.playsSounds !== true) return null

  function stop(): void {
    player.current?.stop()
    setPlaying(null)
    setWaitingFor(null)
  }

  async function begin(name: TakeName): Promise<void> {
    // Made at the first press: before one, browsers let no page sound.
    player.current ??= openTwoTakesPlayer(takes, volume, () => setPlaying(null))
    setWaitingFor(name)
    try {
      if (!(await player.current.play(name))) return
      setPlaying(name)
    } catch (fault) {
      setRefused((before) => ({ ...before, [name]: asAppError(fault) }))
    }
    setWaitingFor(null)
  }

  return {
    playing,
    waitingFor,
    refused,
    volume,
    stop,
    standing: () => player.current?.standing() ?? null,
    setVolume(next) {
      player.current?.setVolume(next)
      setVolume(next)
    },
    toggle(name) {
      if (playing === name || waitingFor === name) stop()
      else void begin(name)
    },
  }
}

/** Where the playing take stands, anew with every picture of the screen; null while nothing plays. */
export function useStanding(takes: TwoTakes | null): Standing | null {
  const [standing, setStanding] = useState<Standing | null>(null)
  const playing = takes?.playing ?? null
  const ask = useRef<TwoTakes['standing']>(() => null)

  useEffect(() => {
    ask.current = takes?.standing ?? (() => null)
  })
  useEffect(() => {
    if (playing === null) return undefined
    let frame = 0
    const look = () => {
      setStanding(ask.current())
      frame = requestAnimationFrame(look)
    }
    frame = requestAnimationFrame(look)
    return () => cancelAnimationFrame(frame)
  }, [playing])

  return playing === null ? null : standing
}
