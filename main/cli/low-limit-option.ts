import { InvalidArgumentError } from 'commander'

/** Wrapped, since a bare null would be taken for an option without a value. */
export interface LowLimit {
  readonly hz: number | null
}

/** A speaker's lowest frequency in Hz, 20 to 20000; empty for unknown. @throws InvalidArgumentError */
export function readLowLimit(text: string): LowLimit {
  if (text === '') return { hz: null }
  const limitHz = Number(text)
  if (!(limitHz >= 20 && limitHz <= 20_000)) {
    throw new InvalidArgumentError('It lies between 20 and 20000 Hz.')
  }
  return { hz: limitHz }
}
