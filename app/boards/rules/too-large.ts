import type { AudioFacts } from '../../model/audio-facts.ts'
import type { Board } from '../../model/board.ts'
import { inBytes } from '../in-words.ts'
import { factsRule } from './rule.ts'
import { mostInWords } from './most-seen.ts'

export const tooLarge = factsRule('too-large', (facts, { board }, sound) => {
  const most = board.audio.largestBytes
  const size = sound.inspection.sizeBytes
  if (most === null || size <= most) return null
  const prepared = preparedBytes(facts, board)
  const helps = prepared !== null && prepared < size && prepared <= most
  return {
    message: `The file has ${inBytes(size)} (${size} bytes); ${mostInWords(board, 'audio.largestBytes', `the board takes at most ${inBytes(most)}`, inBytes(most))}.`,
    why: 'The board cuts it off or refuses it.',
    mend: helps
      ? `Prepared for this board it has ${inBytes(prepared)}.`
      : 'Shorten it in an editor, or leave it out.',
    fixable: helps,
    measured: size,
    limit: most,
    mostOf: 'audio.largestBytes',
  }
})

/** Size of the file once it has the board's rate, depth and channels, with a plain 44-byte header. */
function preparedBytes(facts: AudioFacts, board: Board): number | null {
  const { frames, sampleRateHz, channels } = facts
  if (frames === null || sampleRateHz === null || channels === null || sampleRateHz === 0) return null
  const near = (taken: readonly number[] | null, own: number): number =>
    taken === null || taken.includes(own) ? own : (taken[0] ?? own)
  const rate = near(board.audio.sampleRatesHz, sampleRateHz)
  const bits = near(board.audio.bitDepths, facts.bitDepth ?? 16)
  const frameBytes = Math.ceil(bits / 8) * near(board.audio.channels, channels)
  return 44 + Math.ceil((frames * rate) / sampleRateHz) * frameBytes
}
