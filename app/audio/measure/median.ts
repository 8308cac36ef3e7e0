/** Median of numbers, the mean of the middle two where their count is even; 0 of none. Their order stays. */
export function medianOf(values: Float64Array): number {
  if (values.length === 0) return 0
  const ranked = values.slice()
  const middle = ranked.length >> 1
  const upper = valueOfRank(ranked, middle)
  if (ranked.length % 2 === 1) return upper
  let lower = -Infinity
  for (let index = 0; index < middle; index++) lower = Math.max(lower, ranked[index] ?? 0)
  return (lower + upper) / 2
}

/** Puts the value of this rank at its place, no larger ones before it, and gives it (Hoare's selection). */
function valueOfRank(values: Float64Array, rank: number): number {
  let low = 0
  let high = values.length - 1
  while (low < high) {
    const pivot = values[(low + high) >> 1] ?? 0
    let left = low
    let right = high
    while (left <= right) {
      while ((values[left] ?? 0) < pivot) left++
      while ((values[right] ?? 0) > pivot) right--
      if (left > right) break
      const swapped = values[left] ?? 0
      values[left++] = values[right] ?? 0
      values[right--] = swapped
    }
    if (rank <= right) high = right
    else if (rank >= left) low = left
    else break
  }
  return values[rank] ?? 0
}
