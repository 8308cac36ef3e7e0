import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import { AppError, Cancelled } from '../errors/app-error.ts'
import type { RunControl } from '../ports/progress.ts'
import { cardOrderOf } from './card-order.ts'
import type { CardPorts } from './card-ports.ts'
import type { Judging } from './judging.ts'
import { preparedCopies } from './prepare/prepared-copy.ts'
import { preparedOrderOf } from './prepare/prepared-order.ts'

export interface CheckPorts extends Pick<CardPorts, 'database' | 'getBoard'> {
  readonly judging: Judging
}

/** So many editions are in memory at a time. */
const BATCH = 100

/**
 * What a board makes of fonts. Named fonts, or those of a build, are judged together as one card too;
 * where none is named, the whole library is judged, font by font.
 *
 * @throws AppError `selection/empty` without a board; those of `cardOrderOf`; Cancelled
 */
export async function checkFonts(
  request: RequestOf<'check'>,
  ports: CheckPorts,
  control: RunControl,
): Promise<ResponseOf<'check'>> {
  if (request.editionIds === undefined && request.buildCode === undefined)
    return checkLibrary(request, ports, control)
  const { asPrepared, ...selection } = request
  const order = asPrepared === true ? preparedOrderOf(selection, ports) : cardOrderOf(selection, ports)
  const { board, build, editions } = await order
  const judged = await ports.judging.judgeAll(editions, board, build, control)
  const cardFindings = await ports.judging.judgeCard(editions, board, build, control)
  const fonts = editions.flatMap((edition, index) => checked(edition, judged[index]))
  return { board: board.id, boardTitle: board.title, fonts, cardFindings: [...cardFindings] }
}

async function checkLibrary(
  { boardId, asPrepared }: RequestOf<'check'>,
  ports: CheckPorts,
  control: RunControl,
): Promise<ResponseOf<'check'>> {
  if (boardId === undefined) {
    throw new AppError({
      code: 'selection/empty',
      what: 'No board was named.',
      where: '',
      mend: 'Name a board or a build.',
    })
  }
  const { board } = await ports.getBoard(boardId)
  const summaries = await ports.database.library.listEditions()
  const fonts: ResponseOf<'check'>['fonts'][number][] = []
  for (let at = 0; at < summaries.length; at += BATCH) {
    if (control.cancel.aborted) throw new Cancelled()
    const ids = summaries.slice(at, at + BATCH).map((summary) => summary.id)
    const found = await ports.database.library.getEditions(ids)
    const editions = asPrepared === true ? await preparedCopies(found, board.hash, ports.database) : found
    const judged = await ports.judging.judgeAll(editions, board, null, control)
    fonts.push(...editions.flatMap((edition, index) => checked(edition, judged[index])))
    control.onProgress({
      phase: 'checking fonts',
      done: Math.min(at + BATCH, summaries.length),
      total: summaries.length,
      unit: 'fonts',
      current: editions.at(-1)?.font.name ?? null,
    })
  }
  return { board: board.id, boardTitle: board.title, fonts, cardFindings: [] }
}

type Checked = ResponseOf<'check'>['fonts'][number]
type Edition = Awaited<ReturnType<CheckPorts['database']['library']['getEditions']>>[number]
type Judged = Awaited<ReturnType<Judging['judgeAll']>>[number]

function checked(edition: Edition, judged: Judged | undefined): Checked[] {
  if (judged === undefined) return []
  const { verdict, findings } = judged
  return [{ editionId: edition.id, font: edition.font.name, version: edition.version, verdict, findings }]
}
