import { InvalidArgumentError } from 'commander'
import { SPEAKER_LOW_LIMIT_HZ } from '../../app/model/speaker-low-limit.ts'

/** Wrapped, since a bare null would be taken for an option without a value. */
export interface LowLimit {
  readonly hz: number | null
}

/**
 * A speaker's lowest frequency in Hz, as the user types it.
 * @param otherwise what else may be written, as the end of a sentence
 * @throws InvalidArgumentError
 */
export function readLowLimitHz(text: string, otherwise = ''): number {
  const { least, most } = SPEAKER_LOW_LIMIT_HZ
  const limitHz = Number(text)
  if (text.trim() !== '' && limitHz >= least && limitHz <= most) return limitHz
  throw new InvalidArgumentError(
    `A speaker's lowest frequency lies between ${least} and ${most} Hz${otherwise}.`,
  )
}

/** The same, or empty for unknown. @throws InvalidArgumentError */
export function readLowLimit(text: string): LowLimit {
  return { hz: text === '' ? null : readLowLimitHz(text) }
}
