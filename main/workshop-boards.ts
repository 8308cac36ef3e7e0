import { nearestWord } from '../app/boards/edit-distance.ts'
import type { Scheme } from '../app/boards/scheme.ts'
import type { ResponseOf } from '../app/contract/calls.ts'
import { AppError } from '../app/errors/app-error.ts'
import { boardSummaryOf } from '../app/usecases/keep-boards.ts'
import { loadBoards, type LoadedBoard } from './adapters/files/board-files.ts'
import { loadSchemes, type LoadedScheme } from './adapters/files/scheme-files.ts'

type BoardSummary = ResponseOf<'boards:show'>['board']

/** The boards and schemes of a workshop, read anew at each question: people edit them meanwhile. */
export interface WorkshopBoards {
  list(): Promise<{ readonly boards: readonly BoardSummary[]; readonly problems: readonly string[] }>
  /** Every board that can be used. */
  all(): Promise<readonly LoadedBoard[]>
  /** @throws AppError `board/unknown`, or what is wrong with that board's own file */
  get(boardId: string): Promise<LoadedBoard>
  /** Shipped ones first. */
  schemes(): Promise<readonly LoadedScheme[]>
  /** Scheme files of the workshop that cannot be used. */
  schemeProblems(): Promise<readonly AppError[]>
  /** @throws AppError `scheme/unknown`, or what is wrong with that scheme's own file */
  getScheme(schemeId: string): Promise<Scheme>
}

export function workshopBoards(workshopFolder: string): WorkshopBoards {
  return {
    async list() {
      const { boards, problems } = await loadBoards(workshopFolder)
      return { boards: boards.map(boardSummaryOf), problems: problems.map((problem) => problem.message) }
    },
    async all() {
      return (await loadBoards(workshopFolder)).boards
    },
    async get(boardId) {
      const { boards, problems } = await loadBoards(workshopFolder)
      const found = boards.find(({ board }) => board.id === boardId)
      if (found !== undefined) return found
      throw problems.find((problem) => isOwnFile(problem, boardId)) ?? unknownBoard(boardId, boards)
    },
    async schemes() {
      return (await loadSchemes(workshopFolder)).schemes
    },
    async schemeProblems() {
      return (await loadSchemes(workshopFolder)).problems
    },
    async getScheme(schemeId) {
      const { schemes, problems } = await loadSchemes(workshopFolder)
      const found = schemes.find(({ scheme }) => scheme.id === schemeId)
      if (found !== undefined) return found.scheme
      throw problems.find((problem) => isOwnFile(problem, schemeId)) ?? unknownScheme(schemeId)
    },
  }
}

/** A file that cannot be read has no id that counts; people name them alike. */
function isOwnFile(problem: AppError, id: string): boolean {
  const name = problem.where.split(/[/\\]/).at(-1) ?? ''
  return name.replace(/\.ya?ml\b.*$/i, '').toLowerCase() === id.toLowerCase()
}

function unknownBoard(boardId: string, boards: readonly LoadedBoard[]): AppError {
  const ids = boards.map(({ board }) => board.id)
  const nearest = nearestWord(boardId, ids)
  return new AppError({
    code: 'board/unknown',
    what: 'There is no board of this id.',
    where: boardId,
    mend: nearest === null ? `There are ${ids.join(', ')}.` : `Did you mean "${nearest}"?`,
  })
}

function unknownScheme(schemeId: string): AppError {
  return new AppError({
    code: 'scheme/unknown',
    what: 'There is no naming scheme of this id.',
    where: schemeId,
    mend: "Correct the scheme in the board's file, or add the scheme to the workshop.",
  })
}
