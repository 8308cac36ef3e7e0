import { AppError } from '../errors/app-error.ts'
import { nearestWord } from '../boards/edit-distance.ts'
import type { Scheme } from '../boards/scheme.ts'
import type { Board } from '../model/board.ts'
import type { Edition } from '../model/library.ts'
import type { Build } from '../model/records.ts'
import type { CardPorts } from './card-ports.ts'
import { sourceIdsOf, withSingleSounds } from './single-sounds.ts'

/** What is to be on a card: fonts in order, for a board, perhaps for a build. */
export interface CardOrder {
  readonly board: Board
  readonly boardText: string
  readonly scheme: Scheme
  readonly build: Build | null
  /** As the build plays them, where there is one. */
  readonly editions: readonly Edition[]
}

export interface CardSelection {
  readonly boardId?: string | undefined
  readonly editionIds?: readonly string[] | undefined
  readonly buildCode?: string | undefined
}

/**
 * Finds what a request names: the fonts and board of a build, or fonts for a board. A board named
 * beside a build stands in for the build's own.
 *
 * @throws AppError `selection/empty`, `selection/twice`, `build/unknown`, `build/sound-gone`,
 *   `board/unknown`, `font/unknown`
 */
export async function cardOrderOf(
  selection: CardSelection,
  ports: Pick<CardPorts, 'database' | 'getBoard'>,
): Promise<CardOrder> {
  const { buildCode } = selection
  const build = buildCode === undefined ? null : await getBuild(buildCode, ports)
  if (build !== null && selection.editionIds !== undefined) {
    throw unusable('selection/twice', 'Both a build and fonts were named.', 'Name one or the other.')
  }
  const boardId = selection.boardId ?? build?.boardId
  if (boardId === undefined)
    throw unusable('selection/empty', 'No board was named.', 'Name a board or a build.')
  const editionIds = build?.fontEditionIds ?? selection.editionIds ?? []
  if (editionIds.length === 0) {
    throw build === null
      ? unusable('selection/empty', 'No font was named.', 'Name fonts, or a build; `fonts list` shows all.')
      : unusable(
          'selection/empty',
          `The build ${build.code} has no fonts yet.`,
          'Give it some in play order, with `builds set CODE --font FONT` or in the window.',
        )
  }
  const twice = editionIds.find((editionId, index) => editionIds.indexOf(editionId) !== index)
  const singleSounds = build?.singleSounds ?? []
  const sourceIds = sourceIdsOf(singleSounds, editionIds)
  const [{ board, text, scheme }, found] = await Promise.all([
    ports.getBoard(boardId),
    ports.database.library.getEditions([...editionIds, ...sourceIds]),
  ])
  const sources = new Map(found.map((edition) => [edition.id, edition]))
  const editions = found
    .slice(0, editionIds.length)
    .map((edition) => withSingleSounds(edition, singleSounds, sources))
  if (twice !== undefined) {
    const name = editions.find((edition) => edition.id === twice)?.font.name ?? twice
    throw unusable('selection/twice', `The font "${name}" was named twice.`, 'Name it once.')
  }
  return { board, boardText: text, scheme, build, editions }
}

async function getBuild(code: string, ports: Pick<CardPorts, 'database'>): Promise<Build> {
  const build = await ports.database.records.findBuildByCode(code)
  if (build !== undefined) return build
  const builds = await ports.database.records.listBuilds()
  const nearest = nearestWord(
    code,
    builds.map((each) => each.code),
  )
  throw new AppError({
    code: 'build/unknown',
    what: 'There is no build of this code.',
    where: code,
    mend: nearest === null ? '`builds list` shows all builds.' : `Did you mean "${nearest}"?`,
  })
}

function unusable(code: string, what: string, mend: string): AppError {
  return new AppError({ code, what, where: '', mend })
}
