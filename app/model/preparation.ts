import type { Levels } from './measures.ts'
import type { Recipe, RecipeAction } from './recipe.ts'

/**
 * What must be found out about a sound before its recipe can be complete: things that show only in
 * the samples as they will be after its first steps.
 */
export interface SoundQuestion {
  readonly sha256: string
  /** Steps that are settled; `channels` among them only where nothing is to be found out about it. */
  readonly recipe: Recipe
  /** Fold to so many channels, unless they cancel; null where there is nothing to fold. */
  readonly foldTo: number | null
  /** Whether levels and true peak are wanted. */
  readonly wantsLevels: boolean
  /** Levels through a speaker that gives sound from here on are wanted as well; null for none. */
  readonly speakerLowLimitHz: number | null
  /** Of a hum that may meet the limiter on its way to its level; null for none. */
  readonly limiting: HumLimiting | null
  /** Whether it is wanted where it begins and ends to be heard: an offset hides that from its measures. */
  readonly wantsEnds: boolean
}

/** What comes before a sound is heard, and behind. */
export interface SoundEnds {
  /** Null for silence. */
  readonly onsetMs: number | null
  readonly trailingSilenceMs: number
}

/** What holds a hum's peaks down, and where its level is to be. */
export interface HumLimiting {
  readonly ceilingDbtp: number
  readonly mostReductionDb: number
  readonly aimLufs: number
}

/** A hum whose peaks meet the limiter. */
export interface LimitedHum {
  /** Its level without a gain, behind the limiter. */
  readonly levelLufs: number
  /** Gain that brings it to its aim, or would if it were allowed. */
  readonly toAimDb: number
  /** Gain beyond which the limiter would take away more than it may. */
  readonly mostDb: number
}

/** Sounds that are looked at together: one, or the two layers of a swing. */
export interface SoundGroup {
  readonly sounds: readonly SoundQuestion[]
  /** Whether to look for a place where the loop can close; all sounds of the group get the same. */
  readonly wantsSeam: boolean
  /** Whether to look for one only where the ends turn out soft: an offset or other channels hid that. */
  readonly mayHideDip: boolean
}

export type SeamFound = Extract<RecipeAction, { readonly do: 'repair-seam' }>

/** What was found out; a null was not asked for, or is not there. */
export interface SoundAnswer {
  readonly channels: Extract<RecipeAction, { readonly do: 'channels' }> | null
  /** Power of the channels' sum against unrelated ones, in dB. */
  readonly sumDb: number | null
  readonly seam: SeamFound | null
  readonly levels: Pick<Levels, 'integratedLufs' | 'momentaryMaxLufs' | 'truePeakDbtp'> | null
  readonly throughSpeaker: Pick<Levels, 'integratedLufs' | 'momentaryMaxLufs'> | null
  /** Mean of the samples where the loop was cut anew, of the channel where it is largest. */
  readonly dcOffset: number | null
  readonly limited: LimitedHum | null
  readonly ends: SoundEnds | null
}

/** Programs that shape the samples. The same ones, recipe and original give the same bytes. */
export interface PreparingTools {
  /** For recipes that need no other program, and for those that do. */
  readonly own: string
  readonly withFfmpeg: string
  readonly hasFfmpeg: boolean
  /** Set where something less than the best has to do, in one sentence. */
  readonly fallBack: string | null
}

/** Whether another program has a part in a recipe. */
export function needsFfmpeg(recipe: Recipe): boolean {
  return recipe.steps.some(
    ({ action }) => action.do === 'sample-rate' || (action.do === 'decode' && action.by === 'decoder'),
  )
}

export function toolsFor(recipe: Recipe, tools: PreparingTools): string {
  return needsFfmpeg(recipe) ? tools.withFfmpeg : tools.own
}
