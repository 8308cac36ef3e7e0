import { createHash } from 'node:crypto'
import { join } from 'node:path'
import { boardIdentity, readBoard } from '../../../app/boards/read-board.ts'
import type { BoardSurroundings } from '../../../app/boards/read-board.ts'
import { AppError } from '../../../app/errors/app-error.ts'
import type { Board } from '../../../app/model/board.ts'
import { resourcesFolder } from './resources-folder.ts'
import { readYamlFolder } from './yaml-folder.ts'

export interface LoadedBoard {
  readonly board: Board
  readonly source: 'shipped' | 'workshop'
  readonly path: string
  /** As its author wrote it, comments and all. */
  readonly text: string
}

export interface LoadedBoards {
  /** Shipped ones first, each group sorted by file name. */
  readonly boards: readonly LoadedBoard[]
  /** Board files that cannot be used, each with file, line and column. */
  readonly problems: readonly AppError[]
}

/**
 * Loads the shipped boards and those of a workshop (`boards/*.yaml`); parents of `extends` are read
 * first, in whatever order the files lie. A broken file is told in `problems` and hides no other.
 */
export async function loadBoards(workshopFolder: string | null): Promise<LoadedBoards> {
  const shipped = await readYamlFolder(join(resourcesFolder(), 'boards'))
  const own =
    workshopFolder === null
      ? { files: [], problems: [] }
      : await readYamlFolder(join(workshopFolder, 'boards'))
  const problems = [...shipped.problems, ...own.problems]
  const boards = new Map<string, LoadedBoard>()
  let waiting = [
    ...shipped.files.map((file) => ({ ...file, source: 'shipped' as const })),
    ...own.files.map((file) => ({ ...file, source: 'workshop' as const })),
  ].map((file) => ({ ...file, ...boardIdentity(file.text) }))
  const surroundings: BoardSurroundings = {
    ...boardSurroundings((id) => boards.get(id)?.board),
    boardIds: waiting.flatMap(({ id }) => (id === null ? [] : [id])),
  }
  while (waiting.length > 0) {
    const ids = new Set(waiting.map((file) => file.id))
    const ready = waiting.filter((file) => file.parentId === null || !ids.has(file.parentId))
    // Where every file waits for another they extend one another in a circle: reading then tells so.
    const next = ready.length > 0 ? ready : waiting
    for (const { path, text, source } of next) {
      try {
        const board = readBoard(text, path, surroundings)
        const taken = boards.get(board.id)
        if (taken) throw idTaken(path, board.id, taken.path)
        boards.set(board.id, { board, source, path, text })
      } catch (fault) {
        if (!(fault instanceof AppError)) throw fault
        problems.push(fault)
      }
    }
    waiting = ready.length > 0 ? waiting.filter((file) => !ready.includes(file)) : []
  }
  const order = { shipped: 0, workshop: 1 }
  const sorted = [...boards.values()].sort(
    (a, b) => order[a.source] - order[b.source] || (a.path < b.path ? -1 : 1),
  )
  return { boards: sorted, problems }
}

/** What `readBoard` needs, with Node's SHA-256. */
export function boardSurroundings(parentOf: BoardSurroundings['parentOf']): BoardSurroundings {
  return { parentOf, sha256Hex: (text) => createHash('sha256').update(text, 'utf8').digest('hex') }
}

function idTaken(path: string, id: string, takenBy: string): AppError {
  return new AppError({
    code: 'board/id-taken',
    what: `The board id "${id}" is already used by ${takenBy}.`,
    where: path,
    mend: 'Give the board another id.',
  })
}
