import { AppError } from '../errors/app-error.ts'

const DECIMAL: Readonly<Record<string, number>> = { MB: 1e6, GB: 1e9, TB: 1e12 }
const BINARY: Readonly<Record<string, number>> = { KIB: 2 ** 10, MIB: 2 ** 20, GIB: 2 ** 30, TIB: 2 ** 40 }
/** Cards as sold hold less than their name says, and differ (from memory): 4 % less is always there. */
const SOLD_SHARE = 0.96

export interface CardBytes {
  readonly sizeBytes: number
  /** How the figure was understood, for telling; null where it was exact. */
  readonly note: string | null
}

/**
 * Size of a card as people write it: `16GB` as sold (decimal, less 4 %), `512MiB` or a plain number
 * of bytes exactly (IEC 80000-13).
 *
 * @throws AppError `card/size-unreadable`
 */
export function parseCardBytes(text: string): CardBytes {
  const match = /^(\d+(?:\.\d+)?)\s*([a-z]*)$/i.exec(text.trim())
  const number = Number(match?.[1])
  const unit = match?.[2]?.toUpperCase() ?? ''
  if (match !== null && number > 0) {
    if ((unit === '' || unit === 'B') && Number.isSafeInteger(number))
      return { sizeBytes: number, note: null }
    const binary = BINARY[unit]
    if (binary !== undefined) return exactly(number * binary, text)
    const decimal = DECIMAL[unit]
    if (decimal !== undefined) {
      const { sizeBytes } = exactly(Math.floor(number * decimal * SOLD_SHARE), text)
      return {
        sizeBytes,
        note: `A card sold as ${match[1]} ${unit} is counted as ${sizeBytes} bytes: 4 % less than its name says, since cards differ.`,
      }
    }
  }
  throw unreadable(text)
}

function exactly(sizeBytes: number, text: string): CardBytes {
  if (!Number.isSafeInteger(sizeBytes)) throw unreadable(text)
  return { sizeBytes, note: null }
}

function unreadable(text: string): AppError {
  return new AppError({
    code: 'card/size-unreadable',
    what: `"${text}" is no size of a card.`,
    where: '',
    mend: 'Write it as 16GB (as sold), 512MiB or a number of bytes.',
  })
}
