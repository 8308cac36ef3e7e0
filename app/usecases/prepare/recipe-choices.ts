import type { RequestOf, ResponseOf } from '../../contract/calls.ts'
import { nearestWord } from '../../boards/edit-distance.ts'
import { AppError } from '../../errors/app-error.ts'
import type { Edition } from '../../model/library.ts'
import { RECIPE_CHOICE_NUMBERS, type RecipeChoice, type RecipeStepName } from '../../model/recipe.ts'
import { ROLES } from '../../model/role.ts'
import { cardOrderOf, type CardOrder } from '../card-order.ts'
import type { PreparePorts } from './prepare-ports.ts'

type ChoicePorts = Pick<PreparePorts, 'database' | 'getBoard'>
type Kept = ResponseOf<'prepare:choices'>
type Word = Pick<NonNullable<RequestOf<'prepare'>['choices']>[number], 'step' | 'role' | 'path'>

/**
 * The user's words on steps, as they are kept for some fonts and a board.
 * @throws AppError of `cardOrderOf`
 */
export async function listChoices(request: RequestOf<'prepare:choices'>, ports: ChoicePorts): Promise<Kept> {
  return keptFor(await cardOrderOf(request, ports), ports)
}

/**
 * Keeps and forgets the user's words on steps; nothing is prepared.
 * @throws AppError of `cardOrderOf`, `prepare/unknown-sound`, `prepare/choice-out-of-range`
 */
export async function changeChoices(request: RequestOf<'prepare:choose'>, ports: ChoicePorts): Promise<Kept> {
  const order = await cardOrderOf(request, ports)
  const kept = askedFor(request, order)
  const forgotten = (request.forget ?? []).flatMap((word) => choicesFor(word, null, order))
  await ports.database.inTransaction(async ({ preparation }) => {
    if (request.forgetAll === true) {
      for (const { id } of order.editions) await preparation.dropRecipeChoices(id, order.board.id)
    }
    for (const choice of forgotten) await preparation.dropRecipeChoice(choice)
    for (const choice of kept) await preparation.setRecipeChoice(choice)
  })
  return keptFor(order, ports)
}

async function keptFor({ board, editions }: CardOrder, { database }: ChoicePorts): Promise<Kept> {
  const ids = editions.map(({ id }) => id)
  const choices = await database.preparation.listRecipeChoices(ids, board.id)
  return { board: board.id, choices: choices.map(choiceRow) }
}

/** A kept word as the contract tells it: for one board, so without its id. */
export function choiceRow({ editionId, step, value, role, path }: RecipeChoice): Kept['choices'][number] {
  return { editionId, step, value, role, path }
}

/**
 * The words that a run follows: those kept for the fonts, and those of its request, which are kept now.
 * @throws AppError `prepare/unknown-sound`, `prepare/choice-out-of-range`
 */
export async function choicesOf(
  request: RequestOf<'prepare'>,
  order: CardOrder,
  { database }: ChoicePorts,
): Promise<readonly RecipeChoice[]> {
  const { editions, board } = order
  const asked = askedFor(request, order)
  const forgotten = (request.forget ?? []).flatMap((word) => choicesFor(word, null, order))
  const ids = editions.map(({ id }) => id)
  const isReset = request.resetChoices === true
  if (request.dryRun === true) {
    if (isReset) return asked
    const kept = await database.preparation.listRecipeChoices(ids, board.id)
    return [...kept.filter((choice) => !forgotten.some((each) => isSameWord(each, choice))), ...asked]
  }
  if (asked.length > 0 || forgotten.length > 0 || isReset) {
    await database.inTransaction(async ({ preparation }) => {
      if (isReset) for (const id of ids) await preparation.dropRecipeChoices(id, board.id)
      for (const choice of forgotten) await preparation.dropRecipeChoice(choice)
      for (const choice of asked) await preparation.setRecipeChoice(choice)
    })
  }
  return database.preparation.listRecipeChoices(ids, board.id)
}

function isSameWord(a: RecipeChoice, b: RecipeChoice): boolean {
  return a.editionId === b.editionId && a.step === b.step && a.role === b.role && a.path === b.path
}

/** New words of a request, for each of the fonts that they are about. */
function askedFor(
  { choices = [] }: Pick<RequestOf<'prepare:choose'>, 'choices'>,
  order: CardOrder,
): readonly RecipeChoice[] {
  for (const { step, value } of choices) requireInRange(step, value)
  return choices.flatMap((choice) => choicesFor(choice, choice.value, order))
}

/** One word, for each of the fonts that it is about. */
function choicesFor(
  { step, role, path }: Word,
  value: number | null,
  { editions, board }: CardOrder,
): readonly RecipeChoice[] {
  const owners = path === undefined ? editions : editions.filter((edition) => hasSound(edition, path))
  if (path !== undefined && owners.length === 0) throw unknownSound(path, editions)
  return owners.map(({ id }) => {
    return { editionId: id, boardId: board.id, role: role ?? null, path: path ?? null, step, value }
  })
}

/** @throws AppError `prepare/choice-out-of-range` */
function requireInRange(step: RecipeStepName, value: number | null): void {
  if (value === null) {
    if (step !== 'decode') return
    throw new AppError({
      code: 'prepare/choice-out-of-range',
      what: 'A sound is always read.',
      where: step,
      mend: 'Leave out one of the other steps.',
    })
  }
  const range = RECIPE_CHOICE_NUMBERS[step]
  if (range !== undefined && value >= range.least && value <= range.most) return
  throw new AppError({
    code: 'prepare/choice-out-of-range',
    what: range === undefined ? 'This step has no number to set.' : `${value} ${range.unit} is out of range.`,
    where: step,
    mend:
      range === undefined
        ? 'It can only be left out.'
        : `Choose from ${range.least} to ${range.most} ${range.unit}.`,
  })
}

function hasSound({ sounds }: Edition, path: string): boolean {
  return sounds.some((sound) => sound.path === path)
}

function unknownSound(path: string, editions: readonly Edition[]): AppError {
  const paths = editions.flatMap(({ sounds }) => sounds.map((sound) => sound.path))
  const nearest = nearestWord(path, [...ROLES, ...paths])
  return new AppError({
    code: 'prepare/unknown-sound',
    what: 'It is no role, and none of these fonts has a sound of this path.',
    where: path,
    mend: nearest === null ? '`sounds FONT` lists their paths.' : `Did you mean "${nearest}"?`,
  })
}
