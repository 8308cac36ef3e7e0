import type { RequestOf, ResponseOf } from '../../contract/calls.ts'
import { AppError } from '../../errors/app-error.ts'
import { toolsFor } from '../../model/preparation.ts'
import { recipeKey } from '../../model/recipe.ts'
import { isLoop } from '../../model/role.ts'
import type { PreparePorts } from './prepare-ports.ts'
import { matchedLoudness, outcomeWords, stateRow, stepRows } from './preparing-report.ts'

/**
 * How one sound stands for a board, as the last run left it: nothing is made or measured.
 * @throws AppError `sound/unknown`, `board/unknown`, `font/unknown`
 */
export async function showPreparedSound(
  { soundId, boardId }: RequestOf<'sounds:prepared'>,
  ports: Pick<PreparePorts, 'database' | 'getBoard' | 'preparer'>,
): Promise<ResponseOf<'sounds:prepared'>> {
  const { library, preparation } = ports.database
  const found = await library.findSound(soundId)
  if (found === undefined) throw unknownSound(soundId)
  const { board } = await ports.getBoard(boardId)
  const edition = await library.getEdition(found.editionId)
  const sound = edition.sounds.find(({ id }) => id === soundId)
  if (sound === undefined) throw unknownSound(soundId)
  const before = stateRow(sound.place, sound.inspection)
  const rows = await preparation.listPreparedSounds([edition.id], board.hash)
  const row = rows.find(
    ({ path, originalSha256 }) => path === sound.path && originalSha256 === sound.inspection.sha256,
  )
  const common = {
    soundId,
    board: board.id,
    path: sound.path,
    role: sound.place?.role ?? null,
    isLoop: sound.place !== null && isLoop(sound.place),
    before,
  }
  if (row === undefined) {
    return { ...common, isPrepared: false, steps: [], told: [], after: null, matchedLoudness: null }
  }
  const { originalSha256, preparedSha256, recipe } = row
  const tools = toolsFor(recipe, await ports.preparer.tools())
  const [[inspection], [made]] = await Promise.all([
    preparation.findInspections([preparedSha256]),
    preparation.findPreparations([{ originalSha256, recipeKey: recipeKey(recipe), tools }]),
  ])
  const isOther = preparedSha256 !== originalSha256 && inspection != null
  const after = isOther ? stateRow(sound.place, inspection) : null
  return {
    ...common,
    isPrepared: true,
    steps: stepRows(recipe, sound.inspection.facts),
    told: [...recipe.told, ...(made == null ? [] : outcomeWords(made.outcome))],
    after,
    matchedLoudness: matchedLoudness(before, after),
  }
}

function unknownSound(soundId: string): AppError {
  return new AppError({
    code: 'sound/unknown',
    what: 'The library has no sound of this id any more.',
    where: soundId,
    mend: 'Go back to the font; the last scan may have replaced it.',
  })
}
