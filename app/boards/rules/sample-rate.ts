import { listed } from '../in-words.ts'
import { factsRule } from './rule.ts'

export const sampleRate = factsRule('sample-rate', (facts, { board }) => {
  const taken = board.audio.sampleRatesHz
  const { sampleRateHz } = facts
  if (taken === null || sampleRateHz === null || taken.includes(sampleRateHz)) return null
  return {
    message: `The sample rate is ${sampleRateHz} Hz; the board plays ${listed(taken)} Hz.`,
    why: 'The board stays silent on it, or plays it at the wrong pitch and speed.',
    mend: 'Prepare can resample it.',
    fixable: true,
    measured: sampleRateHz,
    limit: listed(taken),
  }
})
