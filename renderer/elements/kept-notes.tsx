import type { Kept } from './kept-in-words.ts'
import { keptInWords } from './kept-in-words.ts'
import { Note } from './note.tsx'

/** What a change brought into the store, with the room it takes, and what could not be kept. */
export function KeptNotes({ kept }: { readonly kept: Kept | null }) {
  if (kept === null) return null
  const isWhole = kept.problems.length === 0
  return keptInWords(kept).map((sentence) => (
    <Note key={sentence} tone={isWhole ? 'good' : 'care'} title={sentence} role="status" />
  ))
}
