import { placeAfter, sameMoment, TAKES, type TakeName, type TakeShape } from '../../app/model/two-takes.ts'
import { decodeAtOwnRate, playTake, type Take } from './play-take.ts'

/** A take as it is to be heard. */
export interface TakeToHear {
  /** Where its bytes come from. */
  readonly load: () => Promise<ArrayBuffer>
  readonly sampleRateHz: number
  readonly gainDb: number
  readonly isLoop: boolean
  readonly leadSeconds: number
}

/** Where the player stands. */
export interface Standing {
  readonly take: TakeName
  readonly seconds: number
  readonly lengthSeconds: number
}

/** Plays one of two takes of a sound, and changes between them where it stands. */
export interface TwoTakesPlayer {
  /**
   * Begins a take; where the other one plays, from the same moment on.
   * @returns false where it was ended or overtaken meanwhile
   * @throws where its bytes cannot be had or not be decoded
   */
  play(name: TakeName): Promise<boolean>
  stop(): void
  /** Null while nothing plays. */
  standing(): Standing | null
  /** 0 to 1, over both takes. */
  setVolume(volume: number): void
  /** Gives the loudspeakers back; the player is not used any more. */
  close(): void
}

interface Ready {
  readonly take: Take
  readonly shape: TakeShape
}

interface Playing extends Ready {
  readonly name: TakeName
  readonly context: AudioContext
  readonly beganAtSeconds: number
  /** Time of the context at which it began. */
  readonly beganAt: number
  end(): void
}

/** One output a sample rate: each take runs at its own, and only the finished stream is converted. */
interface Output {
  readonly context: AudioContext
  readonly volume: GainNode
}

/** What sounds in this window: another player that begins ends it. */
let sounding: { cut(): void } | null = null

/** @param onEnded told when a take has come to its end, or another player has ended it */
export function openTwoTakesPlayer(
  takes: Readonly<Partial<Record<TakeName, TakeToHear>>>,
  startVolume: number,
  onEnded: () => void,
): TwoTakesPlayer {
  const ready = new Map<TakeName, Promise<Ready>>()
  const outputs = new Map<number, Output>()
  let volume = startVolume
  let playing: Playing | null = null
  /** Counts what was asked for, so that a late answer does not play over a newer one. */
  let asked = 0

  function readyTake(name: TakeName): Promise<Ready> {
    const known = ready.get(name)
    if (known !== undefined) return known
    const made = makeReady(takes[name])
    ready.set(name, made)
    // What failed may be tried again.
    made.catch(() => ready.delete(name))
    return made
  }

  function outputAt(sampleRateHz: number): Output {
    const known = outputs.get(sampleRateHz)
    if (known !== undefined) return known
    const context = contextAt(sampleRateHz)
    const gain = context.createGain()
    gain.gain.value = volume
    gain.connect(context.destination)
    const made = { context, volume: gain }
    outputs.set(sampleRateHz, made)
    return made
  }

  function end(): void {
    playing?.end()
    playing = null
    if (sounding === self) sounding = null
  }

  const self = {
    cut(): void {
      asked++
      end()
      onEnded()
    },
  }

  return {
    async play(name) {
      const mine = ++asked
      const loading = readyTake(name)
      // The other one is made ready meanwhile, so that changing over takes no time.
      for (const other of TAKES) if (takes[other] !== undefined) readyTake(other).catch(() => null)
      const wanted = await loading
      const output = outputAt(wanted.take.buffer.sampleRate)
      await output.context.resume()
      if (mine !== asked) return false
      const from = playing === null ? null : placeOf(playing)
      const fromSeconds =
        playing === null || from === null ? 0 : sameMoment(playing.shape, from, wanted.shape)
      if (sounding !== self) sounding?.cut()
      end()
      sounding = self
      const beganAt = output.context.currentTime
      const current: Playing = {
        ...wanted,
        name,
        context: output.context,
        beganAtSeconds: fromSeconds,
        beganAt,
        end: playTake(output.volume, wanted.take, { fromSeconds, atSeconds: beganAt }, () => {
          if (playing !== current) return
          playing = null
          onEnded()
        }),
      }
      playing = current
      return true
    },
    stop() {
      asked++
      end()
    },
    standing() {
      if (playing === null) return null
      const seconds = placeOf(playing)
      if (seconds === null) return null
      return { take: playing.name, seconds, lengthSeconds: playing.shape.lengthSeconds }
    },
    setVolume(next) {
      volume = next
      for (const output of outputs.values())
        output.volume.gain.setTargetAtTime(next, output.context.currentTime, 0.01)
    },
    close() {
      asked++
      end()
      for (const { context } of outputs.values()) void context.close()
    },
  }
}

/** Not every device runs at every rate; the browser then converts while it plays. */
function contextAt(sampleRateHz: number): AudioContext {
  try {
    return new AudioContext({ sampleRate: sampleRateHz })
  } catch {
    return new AudioContext()
  }
}

async function makeReady(take: TakeToHear | undefined): Promise<Ready> {
  if (take === undefined) throw new RangeError('There is no such take of this sound.')
  const { gainDb, isLoop, leadSeconds } = take
  const buffer = await decodeAtOwnRate(await take.load(), take.sampleRateHz)
  return {
    take: { buffer, gainDb, isLoop },
    shape: { lengthSeconds: buffer.duration, leadSeconds, isLoop },
  }
}

function placeOf({ shape, beganAtSeconds, beganAt, context }: Playing): number | null {
  return placeAfter(shape, beganAtSeconds, context.currentTime - beganAt)
}
