import { factsRule } from './rule.ts'

/** Faults that mean: bytes of the sound are missing. */
export const TRUNCATED_DEFECTS: ReadonlySet<string> = new Set([
  'header-cut',
  'chunk-past-end',
  'partial-frame',
])

export const truncated = factsRule('truncated', (facts) => {
  const defect = facts.defects.find((each) => TRUNCATED_DEFECTS.has(each.code))
  if (defect === undefined) return null
  const hasSound = (facts.frames ?? 0) > 0
  return {
    message: `The file is cut off: ${defect.message}`,
    why: 'The board reads on behind its end: a crack, a hang, or the next file.',
    mend: hasSound
      ? 'Fetch the file again where you can; Prepare can make a whole file of what is there.'
      : 'Fetch the file again from where it came.',
    fixable: hasSound,
    measured: `byte ${defect.offset}`,
    limit: null,
  }
})
