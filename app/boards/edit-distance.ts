/**
 * Number of single-letter slips between two words: letters added, left out, replaced, or two
 * neighbours swapped (optimal string alignment: no stretch is touched twice).
 *
 * Source: the distance of Damerau (1964), in the restricted form usual for spelling; from memory.
 */
export function editDistance(a: string, b: string): number {
  const columns = b.length + 1
  let beforeLast = new Array<number>(columns).fill(0)
  let last = Array.from({ length: columns }, (_, column) => column)
  for (let row = 1; row <= a.length; row++) {
    const current = [row]
    for (let column = 1; column < columns; column++) {
      const same = a[row - 1] === b[column - 1]
      let best = Math.min(
        (last[column] ?? 0) + 1,
        (current[column - 1] ?? 0) + 1,
        (last[column - 1] ?? 0) + (same ? 0 : 1),
      )
      const swapped = row > 1 && column > 1 && a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1]
      if (swapped) best = Math.min(best, (beforeLast[column - 2] ?? 0) + 1)
      current.push(best)
    }
    beforeLast = last
    last = current
  }
  return last[b.length] ?? 0
}

/** The candidate that a misspelt word most likely meant, or null where none is near. */
export function nearestWord(word: string, candidates: readonly string[]): string | null {
  const plain = word.slice(0, 80).toLowerCase()
  let nearest: string | null = null
  let least = Math.max(1, Math.floor(plain.length / 3)) + 1
  for (const candidate of candidates) {
    const distance = editDistance(plain, candidate.toLowerCase())
    if (distance < least) {
      least = distance
      nearest = candidate
    }
  }
  return nearest
}
