import { chooseRecipes } from '../../audio/prepare/choose-recipes.ts'
import { draftFont } from '../../audio/prepare/draft-font.ts'
import { foreseenSound } from '../../audio/prepare/foreseen-sound.ts'
import type { Recipe, RecipeStep } from '../../model/recipe.ts'
import type { WorkshopDatabase } from '../../ports/workshop-database.ts'
import type { CardOrder } from '../card-order.ts'
import { fontsToPrepare } from './fonts-to-prepare.ts'

/**
 * How large each sound would be once it is prepared for the board, by `originOf` of where it lies;
 * those that preparing leaves as they are, are not among them. From facts and findings alone: nothing
 * is read, and what only the samples tell (where a loop is closed anew) is left out.
 */
export async function foreseenSizes(
  order: CardOrder,
  { preparation }: Pick<WorkshopDatabase, 'preparation'>,
): Promise<ReadonlyMap<string, number>> {
  const { board, editions } = order
  const hashes = editions.flatMap(({ sounds }) => sounds.map(({ inspection }) => inspection.sha256))
  const [outputs, choices] = await Promise.all([
    preparation.findOutputs(hashes, board.hash),
    preparation.listRecipeChoices(
      editions.map(({ id }) => id),
      board.id,
    ),
  ])
  const speaker = { lowLimitHz: order.build?.speakerLowLimitHz ?? null, levelOf: () => null }
  const fonts = fontsToPrepare(order, speaker, new Set(outputs), choices)
  const drafts = fonts.map(({ font }) => draftFont(font, board))
  const chosen = chooseRecipes(
    drafts.map((draft) => ({ draft, answers: [] })),
    board,
  )
  const sizes = new Map<string, number>()
  fonts.forEach(({ edition }, index) => {
    const foldTo = new Map(drafts[index]?.drafts.map((draft) => [draft.sound, draft.foldTo]))
    const sources = new Map(edition.sounds.map(({ path, source }) => [path, source]))
    for (const { sound, recipe } of chosen[index]?.recipes ?? []) {
      const whole = withFolding(recipe, foldTo.get(sound) ?? null)
      if (whole.steps.length === 0) continue
      const { editionId, path } = sources.get(sound.path) ?? { editionId: edition.id, path: sound.path }
      sizes.set(originOf(editionId, path), foreseenSound(sound.facts, whole, null).sizeBytes)
    }
  })
  return sizes
}

/** A sound by where it lies, as one text. */
export function originOf(editionId: string, path: string): string {
  return `${editionId} ${path}`
}

/** Whether channels are summed or one is kept, only the samples tell; how many are left is known. */
function withFolding(recipe: Recipe, foldTo: number | null): Recipe {
  if (foldTo === null || recipe.steps.some(({ action }) => action.do === 'channels')) return recipe
  const action = { do: 'channels', how: 'fold', to: foldTo, kept: 0 } as const
  const step: RecipeStep = { action, rule: 'channels', reason: '' }
  return { ...recipe, steps: [step, ...recipe.steps] }
}
