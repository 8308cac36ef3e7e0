import { listed } from '../in-words.ts'
import { factsRule } from './rule.ts'

export const channels = factsRule('channels', (facts, { board }) => {
  const taken = board.audio.channels
  const count = facts.channels
  if (taken === null || count === null || taken.includes(count)) return null
  const few = count < Math.min(...taken)
  return {
    message: `It has ${channelWords(count)}; the board plays ${listed(taken)}.`,
    why: 'The board stays silent on it, or plays the channels one after another, at the wrong speed.',
    mend: few ? 'Prepare can write the channel twice.' : 'Prepare can fold the channels into one.',
    fixable: true,
    measured: count,
    limit: listed(taken),
  }
})

function channelWords(count: number): string {
  if (count === 1) return '1 channel (mono)'
  return count === 2 ? '2 channels (stereo)' : `${count} channels`
}
