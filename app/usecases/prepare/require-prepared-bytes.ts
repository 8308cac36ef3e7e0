import { AppError } from '../../errors/app-error.ts'
import type { MadeByRecipe } from '../../model/content.ts'
import type { ContentStore } from '../../ports/content-store.ts'

/**
 * Refuses a card whose prepared sounds the workshop has lost: no folder has their bytes, and only
 * preparing brings them back.
 * @param files those of the card
 * @throws AppError `make/prepared-gone`
 */
export async function requirePreparedBytes(
  recipes: readonly MadeByRecipe[],
  files: readonly { readonly path: string; readonly sha256: string }[],
  store: Pick<ContentStore, 'has'>,
): Promise<void> {
  const gone = new Set<string>()
  for (const { sha256 } of recipes) if (!(await store.has(sha256))) gone.add(sha256)
  const [first, ...others] = files.filter(({ sha256 }) => gone.has(sha256))
  if (first === undefined) return
  throw new AppError({
    code: 'make/prepared-gone',
    what: `The prepared copy of this sound${others.length === 0 ? '' : ` (and of ${others.length} more)`} is not in the workshop any more.`,
    where: first.path,
    mend: 'Prepare its font again, or make the card with --prepare.',
    kind: 'machine',
  })
}
