/**
 * Whether a search finds a thing: each of its words is somewhere in the text, or is how one of the
 * codes begins. A search without words finds everything; capitals do not matter.
 *
 * @param codes what is read off a label from its start, as a fingerprint: found by its beginning alone,
 * since any few letters are somewhere in the middle of one
 */
export function isFound(search: string, text: string, codes: readonly string[] = []): boolean {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean)
  if (words.length === 0) return true
  const searched = text.toLowerCase()
  const begun = codes.map((code) => code.toLowerCase())
  return words.every((word) => searched.includes(word) || begun.some((code) => code.startsWith(word)))
}
