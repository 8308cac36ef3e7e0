/** A stretch of a card: a font, or what lies in its root. */
export interface Stretch {
  readonly id: string
  /** As the board counts; null for what is no font. */
  readonly number: number | null
  readonly name: string
  readonly usedBytes: number
}

/** How a card is drawn, in shares from 0 to 1. */
export interface StripShares {
  /** Of what is used, one a stretch, in play order; they come to 1. */
  readonly stretches: readonly number[]
  /** Of the strip; with what is free they come to 1. */
  readonly used: number
  readonly free: number
  /** Where the card ends; below 1 where there is more than it holds. */
  readonly cardEnd: number
}

/**
 * Shares of a card's width by bytes.
 * @param freeBytes 0 where it does not fit
 * @param missingBytes how much more there is than the card holds; 0 where it fits
 */
export function stripShares(
  stretches: readonly Stretch[],
  freeBytes: number,
  missingBytes: number,
): StripShares {
  const usedBytes = stretches.reduce((sum, stretch) => sum + stretch.usedBytes, 0)
  const wholeBytes = Math.max(1, usedBytes + freeBytes)
  return {
    stretches: stretches.map((stretch) => stretch.usedBytes / Math.max(1, usedBytes)),
    used: usedBytes / wholeBytes,
    free: freeBytes / wholeBytes,
    cardEnd: Math.max(0, wholeBytes - missingBytes) / wholeBytes,
  }
}

/** Below this share of the card its fonts are too narrow to be told apart, and are drawn enlarged as well. */
const ENLARGED_BELOW = 0.25

/** How many times enlarged the filled part is drawn to be as wide as the card; null where it need not be. */
export function enlargement({ used }: StripShares): number | null {
  return used <= 0 || used >= ENLARGED_BELOW ? null : Math.round(1 / used)
}

/**
 * Stretches in the order in which their fonts stand now, with the sizes of the last answer: a font that
 * moved is drawn there at once, and one that the answer does not know yet has no width.
 *
 * @param order ids of the fonts as they stand now
 * @param answered fonts as last answered, and what is no font after them
 */
export function inCurrentOrder<T extends Stretch>(
  order: readonly string[],
  answered: readonly T[],
): readonly T[] {
  const byId = new Map(answered.map((stretch) => [stretch.id, stretch]))
  const first = answered.find(({ number }) => number !== null)?.number ?? 1
  const fonts = order.flatMap((id) => byId.get(id) ?? [])
  const others = answered.filter(({ number }) => number === null)
  return [...fonts.map((font, index) => ({ ...font, number: first + index })), ...others]
}
