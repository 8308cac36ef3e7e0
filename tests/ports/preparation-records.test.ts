import { expect, test } from 'vitest'
import type { SoundAnswer } from '../../app/model/preparation.ts'
import type { Recipe } from '../../app/model/recipe.ts'
import type { WorkshopDatabase } from '../../app/ports/workshop-database.ts'
import { inspectionOf, scannedEdition, scanOutcome } from '../support/library-rows.ts'
import { testWorkshopDatabase } from '../support/test-workshop-database.ts'

const answer: SoundAnswer = {
  channels: null,
  sumDb: -0.1,
  seam: null,
  levels: null,
  throughSpeaker: null,
  dcOffset: null,
  limited: null,
  ends: null,
}
const outcome = {
  frames: 9,
  limitedByDb: 1.5,
  softenedByDb: 0,
  correctedByDb: 0,
  cutSamples: 0,
  removedDc: [0.1],
}
const recipe: Recipe = {
  steps: [{ action: { do: 'gain', gainDb: 3 }, rule: 'level', reason: 'Too quiet.' }],
  told: ['Something.'],
}

async function libraryOfOneFont(): Promise<{ database: WorkshopDatabase; editionId: string }> {
  const database = await testWorkshopDatabase()
  await database.inTransaction(async ({ library }) => {
    const root = await library.addRoot({ path: '/fonts', kind: 'folder', addedAt: '2026-11-25T08:00:00Z' })
    await library.applyScan(scanOutcome(root.id, [scannedEdition('/fonts/Ember', ['hum.wav'])], ['hum.wav']))
  })
  const [edition] = await database.library.listEditions()
  return { database, editionId: edition!.id }
}

test('answers and preparations are found by their whole key, in the order asked', async () => {
  const { database } = await libraryOfOneFont()
  const key = { originalSha256: 'a', recipeKey: 'gain', tools: 'steps-1' }
  await database.inTransaction(async ({ preparation }) => {
    await preparation.keepAnswers([{ key: 'k', answers: [answer] }])
    await preparation.keepPreparations([{ ...key, preparedSha256: 'b', outcome }])
  })
  expect(await database.preparation.findAnswers(['other', 'k'])).toEqual([null, [answer]])
  expect(await database.preparation.findPreparations([{ ...key, tools: 'steps-2' }, key])).toEqual([
    null,
    { ...key, preparedSha256: 'b', outcome },
  ])
})

test('prepared sounds are kept for one board, and their outputs known as such', async () => {
  const { database, editionId } = await libraryOfOneFont()
  const sound = { editionId, path: 'hum.wav', originalSha256: 'a', preparedSha256: 'b', recipe }
  const untouched = { ...sound, path: 'ignite.wav', preparedSha256: 'a' }
  await database.inTransaction(({ preparation }) =>
    preparation.keepPreparedSounds('board', [untouched, sound]),
  )
  expect(await database.preparation.listPreparedSounds([editionId], 'board')).toEqual([sound, untouched])
  expect(await database.preparation.listPreparedSounds([editionId], 'other')).toEqual([])
  expect(await database.preparation.findOutputs(['a', 'b', 'c'], 'board')).toEqual(['b'])
  expect(await database.preparation.findOutputs(['b'], 'other')).toEqual([])
})

test("the user's word on a step is kept, replaced and forgotten, and journalled without its value", async () => {
  const { database, editionId } = await libraryOfOneFont()
  const choice = { editionId, boardId: 'bench-44', role: 'hum', path: null, step: 'gain', value: 2 } as const
  await database.inTransaction(async ({ preparation }) => {
    await preparation.setRecipeChoice(choice)
    await preparation.setRecipeChoice({ ...choice, value: null })
  })
  expect(await database.preparation.listRecipeChoices([editionId], 'bench-44')).toEqual([
    { ...choice, value: null },
  ])
  expect(await database.preparation.listRecipeChoices([editionId], 'bench-32')).toEqual([])
  const other = { ...choice, role: null, path: 'hum.wav', value: 1 }
  await database.inTransaction(async ({ preparation }) => {
    await preparation.setRecipeChoice(other)
    await preparation.dropRecipeChoice({ ...choice, value: 7 })
    await preparation.dropRecipeChoice({ ...choice, step: 'trim' })
  })
  expect(await database.preparation.listRecipeChoices([editionId], 'bench-44')).toEqual([other])
  await database.inTransaction(({ preparation }) => preparation.dropRecipeChoices(editionId, 'bench-44'))
  expect(await database.preparation.listRecipeChoices([editionId], 'bench-44')).toEqual([])
  const told = (await database.records.listJournal(5)).map(({ what }) => what)
  expect(told).toContain('dropped step gain')
})

test('what is known of contents is read by their hashes', async () => {
  const { database } = await libraryOfOneFont()
  const known = inspectionOf('hum.wav')
  expect(await database.preparation.findInspections(['nothing', known.sha256])).toEqual([null, known])
})
