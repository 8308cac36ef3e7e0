import { factsRule } from './rule.ts'
import { TRUNCATED_DEFECTS } from './truncated.ts'

/** Faults of the file's structure that leave the sound whole. */
export const defects = factsRule('defects', (facts) => {
  const isCut = facts.defects.some((each) => TRUNCATED_DEFECTS.has(each.code))
  // What is cut off also claims more bytes than it has: that is one fault, and told already.
  const found = facts.defects.filter(
    (each) => !TRUNCATED_DEFECTS.has(each.code) && !(isCut && each.code === 'riff-size-long'),
  )
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
