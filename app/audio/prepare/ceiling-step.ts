import type { Board } from '../../model/board.ts'
import type { SoundAnswer } from '../../model/preparation.ts'
import type { RecipeStep } from '../../model/recipe.ts'
import { isLoop } from '../../model/role.ts'
import { alters } from './altering-steps.ts'
import { isFloat, USUAL_BITS } from './depth-step.ts'
import type { RecipeDraft } from './draft-recipe.ts'
import { MOST_LIMITING_DB } from './most-limiting.ts'
import { chosenNumber, findingOf, isDropped, type SoundToPrepare } from './sound-to-prepare.ts'

/**
 * How much higher than measured the true peak may lie after a step, in dB. A change of rate cuts treble
 * off whose share held edges down; a high-pass of this kind gives at an edge of a square wave up to
 * twice and a little its height; two unlike stretches blended at equal power add up to 3 dB.
 */
const PEAK_MAY_RISE_DB = { 'sample-rate': 3, trim: 0.1, 'high-pass': 7, 'repair-seam': 3.1 } as const
/** Steps of the depth by which rounding and dither can lift a sample. */
const ROUNDING_STEPS = 1.5

/**
 * Holds peaks down: where a finding or the user asks for it, and where the steps before could lift them
 * above the board's ceiling, or above full scale where it has none.
 * @param gainDb gain of the sound, which is among `steps` already
 */
export function ceilingStep(
  draft: RecipeDraft,
  answer: SoundAnswer | null,
  gainDb: number,
  board: Board,
  steps: readonly RecipeStep[],
): RecipeStep | null {
  const { sound } = draft
  if (isDropped(sound, 'ceiling')) return null
  const chosen = chosenNumber(sound, 'ceiling')
  const limit = chosen ?? board.levels.ceilingDbtp
  const finding = findingOf(sound, 'true-peak')
  const isAltered = steps.some(alters)
  const peak = highestPeak(draft, answer, gainDb, steps, board)
  // Whole numbers end at full scale: what lies above it would be cut, ceiling or not.
  const ceilingDbtp = limit ?? 0
  const isAbove = peak === null || peak > ceilingDbtp
  const isAsked = isAbove && (chosen !== undefined || finding !== undefined || isAltered)
  const isNeeded = limit === null ? peak !== null && peak > 0 && (isAltered || isFloat(sound)) : isAsked
  if (!isNeeded || isWithoutPeak(sound)) return null
  const action = {
    do: 'ceiling',
    ceilingDbtp,
    mostReductionDb: board.levels.mostLimitingDb ?? MOST_LIMITING_DB,
    isLoop: isLoop(sound.place),
  } as const
  if (finding !== undefined) return { action, rule: finding.rule, reason: finding.message }
  return {
    action,
    rule: 'true-peak',
    reason: `Peaks are held below ${ceilingDbtp} dBTP, where the steps before could lift them.`,
  }
}

function measuredPeak({ measures }: SoundToPrepare): number | null {
  return measures?.levels.truePeakDbtp ?? null
}

/** Whether every sample is zero: then there is nothing to hold down, whatever is done to it. */
function isWithoutPeak({ measures }: SoundToPrepare): boolean {
  return (
    measures !== null &&
    measures.levels.truePeakDbtp === null &&
    measures.reasons['truePeakDbtp'] === 'silent'
  )
}

/** The highest that the true peak can be behind the gain; null where nothing tells. */
function highestPeak(
  { sound, steps: drafted }: RecipeDraft,
  answer: SoundAnswer | null,
  gainDb: number,
  steps: readonly RecipeStep[],
  { audio: { bitDepths } }: Board,
): number | null {
  const isRounded = steps.some(alters)
  const bits = Math.min(...(bitDepths ?? [USUAL_BITS]))
  const rounded = (peakDb: number) =>
    isRounded ? decibels(10 ** (peakDb / 20) + ROUNDING_STEPS * 2 ** (1 - bits)) : peakDb
  const found = answer?.levels?.truePeakDbtp ?? null
  if (found !== null) {
    // What was measured had no offset taken out that only grew by then.
    const isLater = steps.some((step) => step.action.do === 'remove-dc' && !drafted.includes(step))
    const offset = isLater
      ? Math.max(Math.abs(answer?.dcOffset ?? 0), Math.abs(sound.measures?.dcOffset ?? 0))
      : 0
    return rounded(found + gainDb + riseWithout(offset, found))
  }
  const measured = measuredPeak(sound)
  if (measured === null) return null
  const rises = steps.map(({ action }) => {
    if (action.do === 'channels')
      return action.how === 'fold' ? 10 * Math.log10(sound.facts.channels ?? 1) : 0
    if (action.do === 'remove-dc') return riseWithout(sound.measures?.dcOffset ?? 0, measured)
    return action.do in PEAK_MAY_RISE_DB ? PEAK_MAY_RISE_DB[action.do as keyof typeof PEAK_MAY_RISE_DB] : 0
  })
  return rounded(rises.reduce((sum, rise) => sum + rise, measured + gainDb))
}

/** What lies on the other side of zero than the offset moves away from it when the offset goes, in dB. */
function riseWithout(offset: number, peakDb: number): number {
  return decibels(1 + Math.abs(offset) / 10 ** (peakDb / 20))
}

function decibels(ratio: number): number {
  return 20 * Math.log10(ratio)
}
