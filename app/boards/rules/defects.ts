import { factsRule } from './rule.ts'
import { TRUNCATED_DEFECTS } from './truncated.ts'

/** Faults of the file's structure that leave the sound whole. */
export const defects = factsRule('defects', (facts, { board }) => {
  const isCut = facts.defects.some((each) => TRUNCATED_DEFECTS.has(each.code))
  // What is cut off also claims more bytes than it has: that is one fault, and told already.
  // So is a tag before the header, where the board tells which containers it takes.
  const isTold = (code: string) =>
    TRUNCATED_DEFECTS.has(code) ||
    (isCut && code === 'riff-size-long') ||
    (code === 'tag-before-header' && board.audio.containers !== null)
  const found = facts.defects.filter((each) => !isTold(each.code))
  const first = found[0]
  if (first === undefined) return null
  const more = found.length > 1 ? ` And ${found.length - 1} more.` : ''
  return {
    message: `${first.message}${more}`,
    why: 'Players differ in how they take this; the board may skip the sound or play a crack.',
    mend: 'Prepare can write the file anew.',
    fixable: (facts.frames ?? 0) > 0,
    measured: `byte ${first.offset}`,
    limit: null,
  }
})
