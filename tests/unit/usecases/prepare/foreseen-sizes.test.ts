import { expect, test } from 'vitest'
import type { ResponseOf } from '../../../../app/contract/calls.ts'
import { foreseenSizes, originOf } from '../../../../app/usecases/prepare/foreseen-sizes.ts'
import { openWorkshopDatabase } from '../../../../main/adapters/db/open-workshop-database.ts'
import { newUuid, systemClock } from '../../../../main/machine.ts'
import { demoWorkshop } from '../../../support/demo-workshop.ts'
import { runCliHere } from '../../../support/run-cli.ts'
import { shippedBoard } from '../../../support/shipped-boards.ts'
import { shippedScheme } from '../../../support/shipped-schemes.ts'

const demo = demoWorkshop()

test.each(['bench-44', 'bench-32'])(
  'sizes reckoned for %s before preparing are those of the copies, and nothing else is reckoned',
  async (boardId) => {
    const database = await openWorkshopDatabase(demo.folder, {
      who: 'test',
      clock: systemClock,
      newId: newUuid,
    })
    try {
      const summaries = await database.library.listEditions()
      const wanted = summaries.filter(({ font }) => ['Thornwick', 'Ninth Anvil'].includes(font.name))
      const editions = await database.library.getEditions(wanted.map(({ id }) => id))
      const board = shippedBoard(boardId)
      const scheme = shippedScheme(board.names.scheme)
      const sizes = await foreseenSizes({ board, boardText: '', scheme, build: null, editions }, database)
      const run = await runCliHere(
        ['prepare', 'Thornwick', 'Ninth Anvil', '--board', boardId, '--json', '--workshop', demo.folder],
        { cwd: demo.base },
      )
      const report = JSON.parse(run.stdout) as ResponseOf<'prepare'>
      const made = report.fonts.flatMap(({ editionId, sounds }) =>
        sounds.flatMap(({ path, after, steps }) =>
          after === null || steps.some(({ step }) => step === 'repair-seam')
            ? []
            : [[originOf(editionId, path), after.sizeBytes] as const],
        ),
      )
      expect(made.length).toBeGreaterThan(2)
      for (const [origin, sizeBytes] of made) expect(sizes.get(origin), origin).toBe(sizeBytes)
      expect(
        report.fonts.some(({ sounds }) =>
          sounds.some(({ before, after }) => after !== null && after.sizeBytes < before.sizeBytes),
        ),
      ).toBe(true)
    } finally {
      await database.close()
    }
  },
)
