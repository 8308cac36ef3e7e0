import { listed } from '../in-words.ts'
import { factsRule } from './rule.ts'

/** Bits of a sample; of plain and float samples only, since packed codings have bits of another kind. */
export const bitDepth = factsRule('bit-depth', (facts, { board }) => {
  const taken = board.audio.bitDepths
  const depth = facts.bitDepth
  if (taken === null || depth === null || taken.includes(depth)) return null
  if (facts.coding !== 'pcm' && facts.coding !== 'float') return null
  return {
    message: `Samples have ${depth} bit; the board plays ${listed(taken)} bit.`,
    why: 'The board cuts the bytes at the wrong places and plays noise, or nothing.',
    mend: `Prepare can write it with ${taken[0] ?? 16} bit.`,
    fixable: true,
    measured: depth,
    limit: listed(taken),
  }
})
