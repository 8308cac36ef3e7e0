import { defaultRangeExtractor, useVirtualizer } from '@tanstack/react-virtual'
import type { RefObject } from 'react'

const HEAD_PIXELS = 48

interface LongRowsOptions {
  readonly count: number
  /** Few rows are all drawn; the frame does not scroll by itself then. */
  readonly isLong: boolean
  /** About as high is a row before it was drawn. */
  readonly rowPixels: number
  /** A row that is drawn wherever the frame was scrolled to. */
  readonly always?: number
}

export interface LongRows {
  /** Rows that are drawn, in their order; each with the height of those left out before it. */
  readonly shown: readonly { readonly index: number; readonly gapBefore: number }[]
  /** Height of the rows left out before the first, and behind the last. */
  readonly before: number
  readonly after: number
  /** Put on each drawn row, which says by `data-index` which one it is. */
  readonly measure: ((row: Element | null) => void) | undefined
  /** Scrolls a row into view. */
  show(index: number): void
}

/** Draws of a long table only the rows that are seen. @param frame what scrolls */
export function useLongRows(
  frame: RefObject<HTMLElement | null>,
  { count, isLong, rowPixels, always }: LongRowsOptions,
): LongRows {
  // No compiler memoizes this hook: what it returns may change under the same name.
  // oxlint-disable-next-line react/incompatible-library
  const virtual = useVirtualizer({
    count,
    enabled: isLong,
    getScrollElement: () => frame.current,
    estimateSize: () => rowPixels,
    overscan: 8,
    // The head of the table stays in sight above the rows.
    scrollPaddingEnd: HEAD_PIXELS,
    rangeExtractor(range) {
      const seen = defaultRangeExtractor(range)
      if (always === undefined || always >= count || seen.includes(always)) return seen
      return [...seen, always].sort((a, b) => a - b)
    },
  })
  if (!isLong) {
    const shown = Array.from({ length: count }, (_, index) => ({ index, gapBefore: 0 }))
    return { shown, before: 0, after: 0, measure: undefined, show: () => undefined }
  }
  const items = virtual.getVirtualItems()
  const [first] = items
  const last = items.at(-1)
  return {
    shown: items.map(({ index, start }, at) => ({
      index,
      gapBefore: at === 0 ? 0 : start - (items[at - 1]?.end ?? start),
    })),
    before: first?.start ?? 0,
    after: last === undefined ? 0 : virtual.getTotalSize() - last.end,
    measure: virtual.measureElement,
    show: (index) => virtual.scrollToIndex(index),
  }
}
