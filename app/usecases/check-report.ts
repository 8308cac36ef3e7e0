import { boardInWords } from '../boards/board-words.ts'
import { reportHtml } from '../boards/report-html.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import type { CheckPorts } from './check-edition.ts'

/**
 * What a board makes of fonts, as a page to send to their creator. Judged for no build, so that
 * nothing of a client can be in it.
 * @throws AppError `board/unknown`, `font/unknown`
 */
export async function checkReport(
  { boardId, editionIds }: RequestOf<'check:report'>,
  ports: CheckPorts & { readonly toolVersion: string },
): Promise<ResponseOf<'check:report'>> {
  const { board } = await ports.getBoard(boardId)
  const editions = await ports.database.library.getEditions(editionIds)
  const judged = await ports.judging.judgeAll(editions, board, null)
  const fonts = editions.flatMap((edition, index) => {
    const found = judged[index]
    if (found === undefined) return []
    return [{ name: edition.font.name, version: edition.version, soundCount: edition.soundCount, ...found }]
  })
  return {
    html: reportHtml({
      boardTitle: board.title,
      limits: boardInWords(board),
      fonts,
      toolVersion: ports.toolVersion,
    }),
    board: board.id,
    fontCount: fonts.length,
    errorCount: fonts.reduce((sum, font) => sum + font.verdict.errorCount, 0),
  }
}
