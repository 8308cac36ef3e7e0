/** A card's size as a user writes it. */
export interface CardSizeAsked {
  /** What the card is taken to hold. */
  readonly cardBytes: number
  /** True where the size printed on a card was lessened, since cards as sold differ. */
  readonly isAsSold: boolean
}

const DECIMAL: Readonly<Record<string, number>> = { KB: 1e3, MB: 1e6, GB: 1e9, TB: 1e12 }
const BINARY: Readonly<Record<string, number>> = { KIB: 2 ** 10, MIB: 2 ** 20, GIB: 2 ** 30, TIB: 2 ** 40 }
const SECTOR_BYTES = 512
/** Cards as sold hold a little less or more than is printed on them; from memory. */
const SHARE_THAT_ALL_HAVE = 0.96

/**
 * Reads `16GB` (decimal as printed on cards, less 4 %), `512MiB` or a plain number of bytes (both
 * exact). Rounded down to whole sectors of 512 bytes.
 *
 * Shape:  text -> size, or undefined where it is none.
 * Source: IEC 80000-13 for the units.
 */
export function readCardSize(text: string): CardSizeAsked | undefined {
  const match = /^(\d{1,15}(?:\.\d{1,6})?)\s*([A-Za-z]{0,3})$/.exec(text.trim())
  if (match === null) return undefined
  const amount = Number(match[1])
  const unit = (match[2] ?? '').toUpperCase()
  const isAsSold = unit in DECIMAL
  const factor = isAsSold
    ? (DECIMAL[unit] ?? 0) * SHARE_THAT_ALL_HAVE
    : unit === '' || unit === 'B'
      ? 1
      : BINARY[unit]
  if (factor === undefined) return undefined
  const cardBytes = Math.floor(Math.round(amount * factor) / SECTOR_BYTES) * SECTOR_BYTES
  return cardBytes > 0 && Number.isSafeInteger(cardBytes) ? { cardBytes, isAsSold } : undefined
}
