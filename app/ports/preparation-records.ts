import type { SoundAnswer } from '../model/preparation.ts'
import type { Recipe, RecipeChoice, RecipeOutcome } from '../model/recipe.ts'
import type { SoundInspection } from '../model/sound.ts'

/** By what prepared bytes are known: the same three give the same bytes. */
export interface PreparationKey {
  readonly originalSha256: string
  /** See `recipeKey`. */
  readonly recipeKey: string
  readonly tools: string
}

/** Bytes that came out of a recipe; they are in the content store. */
export interface Preparation extends PreparationKey {
  readonly preparedSha256: string
  readonly outcome: RecipeOutcome
}

/** How a sound of an edition stands for a board; of one whose recipe is empty, both hashes are equal. */
export interface PreparedSound {
  readonly editionId: string
  readonly path: string
  readonly originalSha256: string
  readonly preparedSha256: string
  readonly recipe: Recipe
}

export interface PreparationReader {
  /** In the order asked; null where nobody asked before. */
  findAnswers(keys: readonly string[]): Promise<readonly (readonly SoundAnswer[] | null)[]>
  /** In the order asked; null where it was never made. */
  findPreparations(keys: readonly PreparationKey[]): Promise<readonly (Preparation | null)[]>
  /** Prepared sounds of editions for a board, sorted by edition and path. */
  listPreparedSounds(editionIds: readonly string[], boardHash: string): Promise<readonly PreparedSound[]>
  /** Which of these contents came out of a recipe for this board. */
  findOutputs(sha256s: readonly string[], boardHash: string): Promise<readonly string[]>
  /** What is known of contents, in the order asked; null where nothing is. */
  findInspections(sha256s: readonly string[]): Promise<readonly (SoundInspection | null)[]>
  /** Sorted by edition, role, path and step. */
  listRecipeChoices(editionIds: readonly string[], boardId: string): Promise<readonly RecipeChoice[]>
}

/** Writing; only inside `inTransaction`. */
export interface PreparationWriter {
  keepAnswers(
    answers: readonly { readonly key: string; readonly answers: readonly SoundAnswer[] }[],
  ): Promise<void>
  keepPreparations(preparations: readonly Preparation[]): Promise<void>
  /** Replaces what was recorded of these sounds for this board. */
  keepPreparedSounds(boardHash: string, sounds: readonly PreparedSound[]): Promise<void>
  /** Replaces the user's word on the same step of the same thing. */
  setRecipeChoice(choice: RecipeChoice): Promise<void>
  /** Forgets the user's word on this step of this thing; its value does not matter. */
  dropRecipeChoice(choice: RecipeChoice): Promise<void>
  /** Forgets all of the user's words about an edition and board. */
  dropRecipeChoices(editionId: string, boardId: string): Promise<void>
}
