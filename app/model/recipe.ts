import type { Role } from './role.ts'

/** The steps of a recipe, in the order in which they are done. */
export const RECIPE_STEPS = [
  'decode',
  'channels',
  'sample-rate',
  'remove-dc',
  'trim',
  'repair-seam',
  'high-pass',
  'gain',
  'ceiling',
  'bit-depth',
  'header',
] as const
export type RecipeStepName = (typeof RECIPE_STEPS)[number]

/**
 * One thing done to a sound, with all its numbers: nothing is looked for while it is done, so that
 * the same samples and the same recipe give the same bytes.
 */
export type RecipeAction =
  | { readonly do: 'decode'; readonly by: 'reader' | 'decoder' }
  | {
      readonly do: 'channels'
      /** `fold`: sum by equal power; `keep`: one channel; `spread`: one channel to several. */
      readonly how: 'fold' | 'keep' | 'spread'
      readonly to: number
      /** Index of the channel that is kept; 0 where none is chosen. */
      readonly kept: number
    }
  | { readonly do: 'sample-rate'; readonly fromHz: number; readonly toHz: number; readonly isLoop: boolean }
  | { readonly do: 'remove-dc' }
  | { readonly do: 'trim'; readonly leadMs: number; readonly tailMs: number }
  | {
      readonly do: 'repair-seam'
      /** Frames of the sound as it is at this step: the loop is [startFrame, endFrame). */
      readonly startFrame: number
      readonly endFrame: number
      readonly crossfadeFrames: number
      /** How alike the two ends of the crossfade are, -1 to 1; the fade keeps their power. */
      readonly correlation: number
    }
  | { readonly do: 'high-pass'; readonly frequencyHz: number; readonly isLoop: boolean }
  | {
      readonly do: 'gain'
      readonly gainDb: number
      /** Loudness that this sound alone is to land at: where steps before moved it, its gain is corrected. */
      readonly aimLufs?: number
    }
  | {
      readonly do: 'ceiling'
      readonly ceilingDbtp: number
      /** The limiter takes away no more than this; beyond it the whole sound is made softer. */
      readonly mostReductionDb: number
      readonly isLoop: boolean
    }
  | { readonly do: 'bit-depth'; readonly bitDepth: number; readonly dither: 'tpdf' | 'none' }
  | { readonly do: 'header'; readonly header: 'plain' }

export interface RecipeStep {
  readonly action: RecipeAction
  /** The finding that asks for it (`sample-rate`, `level` ...), or `user`. */
  readonly rule: string
  /** Why, with the measured value and the limit. */
  readonly reason: string
}

/** How an original becomes a prepared sound; empty where it is right as it is. */
export interface Recipe {
  readonly steps: readonly RecipeStep[]
  /** What the steps cannot put right, each in one sentence. Told, never retried. */
  readonly told: readonly string[]
}

export const EMPTY_RECIPE: Recipe = { steps: [], told: [] }

/**
 * A recipe's actions as text: equal for recipes that do the same, whatever their reasons say. The
 * store keeps prepared sounds by it.
 */
export function recipeKey(recipe: Recipe): string {
  return JSON.stringify(
    recipe.steps.map(({ action }) =>
      Object.fromEntries(Object.entries(action).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))),
    ),
  )
}

/** What came of doing a recipe, besides the bytes. */
export interface RecipeOutcome {
  readonly frames: number
  /** Largest reduction by the limiter; 0 where it had nothing to do. */
  readonly limitedByDb: number
  /** What was added to the gain, for it to land where it should; 0 where it did at once. */
  readonly correctedByDb: number
  /** How much softer the whole sound was made, since more limiting was not allowed. */
  readonly softenedByDb: number
  /** Samples beyond full scale that were cut to it: only where no ceiling is held. */
  readonly cutSamples: number
  /** Mean of each channel that was taken away, as a fraction of full scale. */
  readonly removedDc: readonly number[]
}

/** A user's own word on a step, for a whole font, a role of it, or one sound. The narrowest counts. */
export interface RecipeChoice {
  readonly editionId: string
  readonly boardId: string
  readonly role: Role | null
  readonly path: string | null
  readonly step: RecipeStepName
  /** `null` drops the step; a number takes the place of the step's own (see RECIPE_CHOICE_NUMBERS). */
  readonly value: number | null
}

/** Steps whose number a user can set, with its unit and bounds. */
export const RECIPE_CHOICE_NUMBERS: Readonly<
  Partial<Record<RecipeStepName, { readonly unit: string; readonly least: number; readonly most: number }>>
> = {
  'high-pass': { unit: 'Hz', least: 20, most: 2000 },
  gain: { unit: 'dB', least: -60, most: 24 },
  ceiling: { unit: 'dBTP', least: -20, most: 0 },
  'bit-depth': { unit: 'bit', least: 8, most: 32 },
}
