import { factsRule } from './rule.ts'

export const empty = factsRule('empty', (facts, _look, sound) => {
  if (facts.frames !== 0) return null
  return {
    message: `The file has ${sound.inspection.sizeBytes} bytes and not one sample.`,
    why: 'The board has nothing to play; some hang on such a file.',
    mend: 'Fetch the file again, or leave it out.',
    fixable: false,
    measured: 0,
    limit: 1,
  }
})
