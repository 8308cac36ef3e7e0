import type { SoundAnswer } from '../../model/preparation.ts'
import type { RecipeStep } from '../../model/recipe.ts'
import { LONGEST_TAIL_MS, longestOnsetMs } from '../../model/sound-ends.ts'
import { trimTo } from './draft-recipe.ts'
import { isDropped, type SoundToPrepare } from './sound-to-prepare.ts'
import { trimBounds } from './trim.ts'

/** Offset that may be left, as a fraction of full scale: half of what is heard (common practice, no source). */
const DC_LEFT = 0.005

/**
 * An offset that is too small to matter grows where the sound is raised, where channels are summed that
 * all have it, and where silence is cut off that it was averaged over; and a loop that is cut anew may
 * end in the middle of a turn.
 */
export function grownDcStep(
  sound: SoundToPrepare,
  answer: SoundAnswer | null,
  gainDb: number,
  steps: readonly RecipeStep[],
): RecipeStep | null {
  const has = (name: RecipeStep['action']['do']) => steps.some(({ action }) => action.do === name)
  if (has('remove-dc') || has('high-pass') || isDropped(sound, 'remove-dc')) return null
  const own = Math.abs(sound.measures?.dcOffset ?? 0)
  const before = answer?.dcOffset == null ? own * steps.reduce(dcGrowth, 1) : Math.abs(answer.dcOffset)
  const after = before * 10 ** (gainDb / 20)
  if (after <= Math.max(DC_LEFT, own)) return null

  const doing = gainDb > 0 ? `Raised by ${gainDb.toFixed(1)} dB` : 'After the other steps'
  const reason = `${doing}, its middle would lie ${(after * 100).toFixed(1)} % of full scale off zero.`
  return { action: { do: 'remove-dc' }, rule: 'dc-offset', reason }

  function dcGrowth(factor: number, { action }: RecipeStep): number {
    const { channels, frames, sampleRateHz } = sound.facts
    if (action.do === 'channels' && action.how === 'fold')
      return factor * Math.sqrt((channels ?? 1) / action.to)
    if (action.do !== 'trim' || frames === null || sampleRateHz === null) return factor
    const { first, cutBehind } = trimBounds(frames, sampleRateHz, action.leadMs, action.tailMs)
    return (factor * frames) / (frames - first - cutBehind)
  }
}

/** Silence that shows only once the offset is gone. */
export function hiddenTrimStep(sound: SoundToPrepare, answer: SoundAnswer | null): RecipeStep | null {
  const ends = answer?.ends ?? null
  if (ends === null) return null
  const { onsetMs, trailingSilenceMs } = ends
  const most = longestOnsetMs(sound.place)
  const isLate = most !== undefined && onsetMs !== null && onsetMs > most
  const isLong = trailingSilenceMs > LONGEST_TAIL_MS
  const late = `Without its offset it is first heard after ${onsetMs?.toFixed(0)} ms; ${most} ms are the most.`
  const long = `Without its offset it ends with ${trailingSilenceMs.toFixed(0)} ms of silence; ${LONGEST_TAIL_MS} ms are plenty.`
  return trimTo(ends, sound, isLate ? late : undefined, isLong ? long : undefined)
}
