import type { Board } from '../../model/board.ts'
import type { SoundAnswer } from '../../model/preparation.ts'
import { EMPTY_RECIPE, RECIPE_STEPS, type Recipe, type RecipeStep } from '../../model/recipe.ts'
import { DEEPEST_DIP_DB } from '../../model/sound-ends.ts'
import { ceilingStep } from './ceiling-step.ts'
import { depthStep } from './depth-step.ts'
import { isForeign, rewriteFinding, type RecipeDraft } from './draft-recipe.ts'
import { grownDcStep, hiddenTrimStep } from './grown-faults.ts'
import type { SoundGain } from './sound-gain.ts'
import { findingOf, type SoundToPrepare } from './sound-to-prepare.ts'

const HIDDEN_DIP = {
  rule: 'loop-dip',
  reason: `Behind the steps before, its ends would be more than ${-DEEPEST_DIP_DB} dB softer than inside.`,
} as const

/** The complete recipe of a sound: its draft, what was found out about it, and its gain. */
export function settleRecipe(
  draft: RecipeDraft,
  answer: SoundAnswer | null,
  gain: SoundGain | null,
  board: Board,
): Recipe {
  const { sound } = draft
  if (sound.isPrepared || (sound.facts.frames ?? 0) === 0) return EMPTY_RECIPE
  const told: string[] = []
  const steps = [...draft.steps]
  const channels = answer?.channels ?? null
  if (draft.foldTo !== null && channels !== null) {
    steps.push({ action: channels, ...reasonOf(sound, 'channels') })
    if (channels.how === 'keep' && draft.foldTo === 1) {
      told.push(
        `Its channels cancel when summed (${(answer?.sumDb ?? 0).toFixed(1)} dB); channel ${channels.kept + 1} alone is kept.`,
      )
    }
  }
  const seam = answer?.seam ?? null
  if (seam !== null) steps.push({ action: seam, ...(draft.seamReason ?? HIDDEN_DIP) })
  else if (draft.seamReason !== null) told.push('It is too short for its loop to be closed anew.')
  const trim = hiddenTrimStep(sound, answer)
  if (trim !== null) steps.push(trim)
  if (gain !== null && gain.gainDb !== 0) {
    const { gainDb, aimLufs, rule, reason } = gain
    const action = { do: 'gain', gainDb, ...(aimLufs === undefined ? {} : { aimLufs }) } as const
    steps.push({ action, rule, reason })
    if (gain.told !== undefined) told.push(gain.told)
  }
  const grownDc = grownDcStep(sound, answer, gain?.gainDb ?? 0, steps)
  if (grownDc !== null) steps.push(grownDc)
  const ceiling = ceilingStep(draft, answer, gain?.gainDb ?? 0, board, steps)
  if (ceiling !== null) steps.push(ceiling)
  const rewrite = rewriteFinding(sound)
  const depth = depthStep(sound, board, steps, rewrite !== null)
  if (depth !== null) steps.push(depth)
  const [first] = steps
  if (first === undefined && rewrite === null) return { steps: [], told }
  const why = rewrite ?? { rule: first?.rule ?? 'user', reason: 'Samples are written anew.' }
  steps.push({ action: { do: 'header', header: 'plain' }, ...why })
  const by = isForeign(sound) ? 'decoder' : 'reader'
  steps.push({ action: { do: 'decode', by }, rule: why.rule, reason: codingWords(sound) })
  const order = (step: RecipeStep) => RECIPE_STEPS.indexOf(step.action.do)
  return { steps: steps.sort((a, b) => order(a) - order(b)), told }
}

function reasonOf(sound: SoundToPrepare, rule: string): Pick<RecipeStep, 'rule' | 'reason'> {
  const finding = findingOf(sound, rule)
  return finding === undefined
    ? { rule: 'user', reason: 'You asked for it.' }
    : { rule, reason: finding.message }
}

function codingWords({ facts }: SoundToPrepare): string {
  const depth = facts.bitDepth === null ? '' : `${facts.bitDepth}-bit `
  return `${depth}${facts.coding === 'other' ? 'samples of another format' : facts.coding} are read.`
}
