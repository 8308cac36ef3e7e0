import type { ErrorReport } from '../errors/app-error.ts'
import type { PreparingTools, SoundAnswer, SoundGroup } from '../model/preparation.ts'
import type { Recipe, RecipeOutcome } from '../model/recipe.ts'
import type { AbortLike } from './progress.ts'
import type { InspectedSound } from './sound-inspector.ts'

/** An original's bytes, and where they lie. */
export interface OriginalFile {
  readonly path: string
  readonly sizeBytes: number
  readonly sha256: string
}

export interface GroupToAnswer {
  readonly group: SoundGroup
  /** One a sound of the group, in its order. */
  readonly originals: readonly OriginalFile[]
}

export interface SoundToMake {
  readonly original: OriginalFile
  readonly recipe: Recipe
}

/** A prepared sound as it lies on the disk, read again from there. */
export interface MadeSound extends InspectedSound {
  /** Of a temporary file that is removed once its receiver has returned. */
  readonly path: string
  readonly outcome: RecipeOutcome
}

/** What one sound or group came to: its result, or why not. */
export type Came<T> = { readonly made: T } | { readonly problem: ErrorReport }

/**
 * Looks into samples and does recipes, on two workers. A sound that fails is a `problem` of its own,
 * and the rest goes on. Nothing half-written is ever given out.
 */
export interface SoundPreparer {
  /** Which programs shape the samples; asked for once. @throws Cancelled */
  tools(cancel?: AbortLike): Promise<PreparingTools>
  /** Starts what a run takes, which takes a moment, while the run is being worked out; unused, it ends by itself. */
  getReady(): void
  /** Calls back once for each group, in any order. @throws Cancelled */
  answer(
    groups: readonly GroupToAnswer[],
    onDone: (index: number, came: Came<readonly SoundAnswer[]>) => void,
    cancel: AbortLike,
  ): Promise<void>
  /** Calls back once for each sound, in any order, and waits for what it returns. @throws Cancelled */
  make(
    sounds: readonly SoundToMake[],
    onDone: (index: number, came: Came<MadeSound>) => Promise<void>,
    cancel: AbortLike,
  ): Promise<void>
  /** Ends whatever waits for a next run; call it once, with nothing running. */
  close(): Promise<void>
}
