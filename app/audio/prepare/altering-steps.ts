import type { RecipeStep } from '../../model/recipe.ts'

/** Whether a step gives samples that are no whole numbers of their depth any more. */
export function alters({ action }: RecipeStep): boolean {
  return (
    action.do !== 'decode' && action.do !== 'header' && !(action.do === 'channels' && action.how === 'keep')
  )
}
