/** The list with one of its things moved to another place, counted from 0; unchanged where there is none. */
export function withMoved<T>(list: readonly T[], from: number, to: number): readonly T[] {
  const moved = list[from]
  if (moved === undefined || to < 0 || to >= list.length || from === to) return list
  const rest = list.filter((_, index) => index !== from)
  return [...rest.slice(0, to), moved, ...rest.slice(to)]
}

/**
 * The place that a number typed by the user means: the nearest there is, so that `99` is the last of
 * twelve. Places count from 0, what is typed from `firstNumber`.
 *
 * @returns null where it is no whole number
 */
export function placeTyped(text: string, firstNumber: number, count: number): number | null {
  const trimmed = text.trim()
  if (!/^\d{1,6}$/.test(trimmed)) return null
  return Math.min(Math.max(0, Number(trimmed) - firstNumber), count - 1)
}
