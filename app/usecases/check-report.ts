import { boardInWords } from '../boards/board-words.ts'
import { reportHtml, type ReportedFont } from '../boards/report-html.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import { Cancelled } from '../errors/app-error.ts'
import type { Board } from '../model/board.ts'
import type { PreparedFolders } from '../ports/prepared-folders.ts'
import type { RunControl } from '../ports/progress.ts'
import type { CheckPorts } from './check-edition.ts'

/** The page for the creators of fonts: what was found, and what the board accepts. */
export function creatorPage(board: Board, fonts: readonly ReportedFont[], toolVersion: string): string {
  return reportHtml({ boardTitle: board.title, limits: boardInWords(board), fonts, toolVersion })
}

export interface ReportPorts extends CheckPorts {
  readonly pages: Pick<PreparedFolders, 'requirePlaceOfPage' | 'writePage'>
  readonly toolVersion: string
}

/** So many editions are in memory at a time. */
const BATCH = 100

/**
 * What a board makes of fonts, as a page to send to their creator; written where a path is told. Judged
 * for no build, so that nothing of a client can be in it.
 *
 * @param request its `reportPath` is absolute
 * @throws AppError `board/unknown`, `font/unknown`, those of `PreparedFolders.writePage`; Cancelled
 */
export async function checkReport(
  { boardId, editionIds, reportPath }: RequestOf<'check:report'>,
  ports: ReportPorts,
  control: RunControl,
): Promise<ResponseOf<'check:report'>> {
  const { board } = await ports.getBoard(boardId)
  if (reportPath !== undefined) await ports.pages.requirePlaceOfPage(reportPath)
  const fonts: ReportedFont[] = []
  for (let at = 0; at < editionIds.length; at += BATCH) {
    if (control.cancel.aborted) throw new Cancelled()
    const editions = await ports.database.library.getEditions(editionIds.slice(at, at + BATCH))
    const judged = await ports.judging.judgeAll(editions, board, null, control)
    for (const [index, { font, version, soundCount }] of editions.entries()) {
      const found = judged[index]
      if (found !== undefined) fonts.push({ name: font.name, version, soundCount, ...found })
    }
    control.onProgress({
      phase: 'checking fonts',
      done: Math.min(at + BATCH, editionIds.length),
      total: editionIds.length,
      unit: 'fonts',
      current: editions.at(-1)?.font.name ?? null,
    })
  }
  const html = creatorPage(board, fonts, ports.toolVersion)
  if (reportPath !== undefined) await ports.pages.writePage(reportPath, html)
  return {
    html,
    reportPath: reportPath ?? null,
    board: board.id,
    fontCount: fonts.length,
    errorCount: fonts.reduce((sum, font) => sum + font.verdict.errorCount, 0),
  }
}
