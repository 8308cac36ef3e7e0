/** One bad sound hangs alone and among others; a program that always hangs does so a third time. */
const MOST_IN_A_ROW = 3
const REST_MS = 300_000

/**
 * Keeps a program that comes to no end time after time from being waited for with every sound of a
 * library: after a few in a row it is left alone for some minutes.
 */
export interface HangLimit {
  /** Whether it is not to be tried now. */
  isReached(): boolean
  hung(): void
  /** It came to an end by itself, whatever that was. */
  ended(): void
}

/** @param nowMs milliseconds of a steady clock */
export function openHangLimit(nowMs: () => number): HangLimit {
  let inARow = 0
  let lastAtMs = 0
  return {
    isReached: () => inARow >= MOST_IN_A_ROW && nowMs() - lastAtMs < REST_MS,
    hung() {
      inARow++
      lastAtMs = nowMs()
    },
    ended() {
      inARow = 0
    },
  }
}
