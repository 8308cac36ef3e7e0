import { InvalidArgumentError } from 'commander'

/** Wrapped, since a bare null would be taken for an option without a value. */
export interface LowLimit {
  readonly hz: number | null
}

const LEAST_HZ = 20
/** No speaker of a hilt begins higher; whoever types more has its highest frequency in mind. */
const MOST_HZ = 2000

/**
 * A speaker's lowest frequency in Hz, as the user types it.
 * @param otherwise what else may be written, as the end of a sentence
 * @throws InvalidArgumentError
 */
export function readLowLimitHz(text: string, otherwise = ''): number {
  const limitHz = Number(text)
  if (text.trim() !== '' && limitHz >= LEAST_HZ && limitHz <= MOST_HZ) return limitHz
  throw new InvalidArgumentError(
    `A speaker's lowest frequency lies between ${LEAST_HZ} and ${MOST_HZ} Hz${otherwise}.`,
  )
}

/** The same, or empty for unknown. @throws InvalidArgumentError */
export function readLowLimit(text: string): LowLimit {
  return { hz: text === '' ? null : readLowLimitHz(text) }
}
