import { describe, expect, test } from 'vitest'
import type { RequestOf } from '../../../../app/contract/calls.ts'
import type { RecipeChoice } from '../../../../app/model/recipe.ts'
import { choicesOf } from '../../../../app/usecases/prepare/recipe-choices.ts'
import { fontLike } from '../../../support/judged-font.ts'
import { shippedBoard, shippedBoardText } from '../../../support/shipped-boards.ts'
import { shippedScheme } from '../../../support/shipped-schemes.ts'

type Words = Pick<RequestOf<'prepare'>, 'choices' | 'forget'>

const board = shippedBoard('bench-44')
const edition = fontLike({})
const order = {
  board,
  boardText: shippedBoardText(board.id),
  scheme: shippedScheme(board.names.scheme),
  build: null,
  editions: [edition],
}

/** What a dry run would follow, with some words kept before. */
function followed(words: Words, kept: readonly RecipeChoice[] = []) {
  const preparation = { listRecipeChoices: () => Promise.resolve(kept) }
  type Ports = Parameters<typeof choicesOf>[2]
  return choicesOf({ dryRun: true, ...words }, order, { database: { preparation } } as unknown as Ports)
}

describe('a word on a step', () => {
  test('for a sound that no font has is answered with the nearest role or path', async () => {
    const about = (path: string) => followed({ choices: [{ step: 'gain', value: null, path }] })
    await expect(about('clahs')).rejects.toMatchObject({
      code: 'prepare/unknown-sound',
      where: 'clahs',
      mend: 'Did you mean "clash"?',
    })
    await expect(about('clash-1.wav')).rejects.toMatchObject({ mend: 'Did you mean "clash-01.wav"?' })
    await expect(about('zzzzzzzzz')).rejects.toMatchObject({ mend: '`sounds FONT` lists their paths.' })
  })

  test('cannot leave out that a sound is read, and one that was kept before can be taken back', async () => {
    const kept: RecipeChoice = {
      editionId: edition.id,
      boardId: board.id,
      role: null,
      path: null,
      step: 'decode',
      value: null,
    }
    await expect(followed({ choices: [{ step: 'decode', value: null }] })).rejects.toMatchObject({
      code: 'prepare/choice-out-of-range',
      what: 'A sound is always read.',
    })
    expect(await followed({ forget: [{ step: 'decode' }] }, [kept])).toEqual([])
  })

  test.each([
    { step: 'gain', value: 24.5, mend: 'Choose from -60 to 24 dB.' },
    { step: 'trim', value: 3, mend: 'It can only be left out.' },
  ] as const)('with $value for $step is refused', async ({ step, value, mend }) => {
    await expect(followed({ choices: [{ step, value }] })).rejects.toMatchObject({ mend })
  })
})
