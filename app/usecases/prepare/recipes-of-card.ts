import type { MadeByRecipe } from '../../model/content.ts'
import type { WorkshopDatabase } from '../../ports/workshop-database.ts'
import type { CardOrder } from '../card-order.ts'

/** How the prepared sounds of a card were made, each once. @param files those of the card */
export async function recipesOfCard(
  { editions, board }: CardOrder,
  files: readonly { readonly sha256: string }[],
  { preparation }: Pick<WorkshopDatabase, 'preparation'>,
): Promise<readonly MadeByRecipe[]> {
  const onCard = new Set(files.map(({ sha256 }) => sha256))
  const rows = await preparation.listPreparedSounds(
    editions.map(({ id }) => id),
    board.hash,
  )
  const made = new Map<string, MadeByRecipe>()
  for (const { originalSha256, preparedSha256, recipe } of rows) {
    if (originalSha256 === preparedSha256 || !onCard.has(preparedSha256)) continue
    if (!made.has(preparedSha256))
      made.set(preparedSha256, { sha256: preparedSha256, originalSha256, recipe })
  }
  return [...made.values()]
}
