import { AppError } from '../../app/errors/app-error.ts'

/** A sound ready to be heard. */
export interface Take {
  readonly buffer: AudioBuffer
  /** Never raises: what is above 0 counts as 0. */
  readonly gainDb: number
  readonly isLoop: boolean
}

/** Where and when a take begins. */
interface Beginning {
  readonly fromSeconds: number
  /** Time of the context. */
  readonly atSeconds: number
}

/** Long enough that no switch is a click, and too short to be heard as a fade. */
const RAMP_SECONDS = 0.008

/**
 * Plays a take into `output`: a loop repeats whole, sample after sample, with nothing between its end
 * and its beginning.
 * @returns a function that ends it
 */
export function playTake(
  output: AudioNode,
  { buffer, gainDb, isLoop }: Take,
  { fromSeconds, atSeconds }: Beginning,
  onEnded: () => void = () => undefined,
): () => void {
  const { context } = output
  const level = 10 ** (Math.min(0, gainDb) / 20)
  const gain = context.createGain()
  const source = context.createBufferSource()
  source.buffer = buffer
  source.loop = isLoop
  source.loopStart = 0
  source.loopEnd = buffer.duration
  source.connect(gain).connect(output)
  // From its very beginning it sounds as it is, attack and all.
  if (fromSeconds === 0) gain.gain.setValueAtTime(level, atSeconds)
  else {
    gain.gain.setValueAtTime(0, atSeconds)
    gain.gain.linearRampToValueAtTime(level, atSeconds + RAMP_SECONDS)
  }
  source.addEventListener('ended', () => {
    gain.disconnect()
    onEnded()
  })
  source.start(atSeconds, fromSeconds)
  return () => {
    const now = context.currentTime
    gain.gain.cancelScheduledValues(now)
    gain.gain.setValueAtTime(gain.gain.value, now)
    gain.gain.linearRampToValueAtTime(0, now + RAMP_SECONDS)
    source.stop(now + RAMP_SECONDS)
  }
}

/**
 * Decodes a whole file at its own sample rate, so that nothing is resampled and a loop keeps its exact
 * length.
 * @throws AppError `sound/undecodable`
 */
export async function decodeAtOwnRate(bytes: ArrayBuffer, sampleRateHz: number): Promise<AudioBuffer> {
  try {
    return await new OfflineAudioContext(1, 1, sampleRateHz).decodeAudioData(bytes)
  } catch (cause) {
    throw undecodable(sampleRateHz, cause)
  }
}

function undecodable(sampleRateHz: number, cause: unknown): AppError {
  const report = {
    code: 'sound/undecodable',
    what: 'This browser cannot decode it.',
    where: `${sampleRateHz} Hz`,
    mend: 'Prepare its font: what is made then can be heard everywhere.',
  }
  return new AppError(report, { cause })
}
