import { shown } from '../in-words.ts'
import { soundRule } from './rule.ts'

/** A sound whose bytes told nothing: it could not be read, or is no sound. */
export const unreadable = soundRule('unreadable', (sound) => {
  const { facts, problem, sizeBytes } = sound.inspection
  if (facts !== null && facts.channels !== null && facts.sampleRateHz !== null) return null
  return {
    message: problem === null ? 'The file has no sound that can be read.' : shown(problem.message),
    why: 'The board finds nothing to play in it; some stop at such a file.',
    mend: 'Fetch the file again from where it came, or leave it out.',
    fixable: false,
    measured: `${sizeBytes} bytes`,
    limit: null,
  }
})
