const BANDS = 6

/** Class of the n-th font's colour on a card; numbers beside it tell fonts apart without it. */
export function bandClass(index: number): string {
  return `band-${(index % BANDS) + 1}`
}
