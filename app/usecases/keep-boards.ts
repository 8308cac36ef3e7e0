import { boardId as idOfBoard } from '../boards/board-schema.ts'
import { newBoardText } from '../boards/board-text.ts'
import { boardInWords, diffBoards } from '../boards/board-words.ts'
import { draftBoard } from '../boards/draft-board.ts'
import { learnLimits, withMoves, type TriedSound } from '../boards/learn-limits.ts'
import { boardIdentity, boardProblems, readBoard } from '../boards/read-board.ts'
import type { Scheme } from '../boards/scheme.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import { AppError } from '../errors/app-error.ts'
import { issueSentence } from '../errors/issue-in-words.ts'
import type { Board } from '../model/board.ts'
import type { CardObserver } from '../ports/card-observer.ts'
import type { LibraryReader } from '../ports/library-records.ts'
import type { RunControl } from '../ports/progress.ts'
import type { WorkshopTexts } from '../ports/workshop-texts.ts'

/** A board of the shelf: shipped, or the workshop's own; or one as it was kept beside a card. */
export interface ShelvedBoard {
  readonly board: Board
  readonly source: 'shipped' | 'workshop' | 'kept'
  /** As its author wrote it; a kept one whole, with what it took over. */
  readonly text: string
}

export interface BoardPorts {
  /** Every board that can be used, shipped ones first. */
  listBoards(): Promise<readonly ShelvedBoard[]>
  /** @throws AppError `board/unknown` */
  getBoard(boardId: string): Promise<ShelvedBoard>
  listSchemes(): Promise<readonly Scheme[]>
  readonly texts: WorkshopTexts
  readonly observer: CardObserver
  sha256Hex(text: string): string
}

type Summary = ResponseOf<'boards:show'>['board']

export function boardSummaryOf({ board, source }: Pick<ShelvedBoard, 'board' | 'source'>): Summary {
  const { id, title, notes, hash, known } = board
  return { id, title, notes, hash, source, known: { ...known }, inWords: [...boardInWords(board)] }
}

/** What is wrong with a text, and the board it makes where nothing is. */
export async function testBoard(
  { text }: RequestOf<'boards:test'>,
  ports: BoardPorts,
): Promise<ResponseOf<'boards:test'>> {
  const surroundings = await surroundingsOf(ports, text)
  const problems = boardProblems(text, surroundings)
  if (problems.length > 0) return { problems: [...problems], board: null }
  const board = readBoard(text, 'text', surroundings)
  return { problems: [], board: boardSummaryOf({ board, source: 'workshop' }) }
}

/** @throws AppError `board/unknown` for the parent; those of `WorkshopTexts.keepBoard` */
export async function newBoard(
  { boardId, title, parentId }: RequestOf<'boards:new'>,
  ports: BoardPorts,
): Promise<ResponseOf<'boards:new'>> {
  refuseBadId(boardId)
  const parent = parentId === undefined ? undefined : (await ports.getBoard(parentId)).board
  const sample = parent ?? (await ports.listBoards())[0]?.board
  if (sample === undefined) throw new RangeError('boards ship with the program')
  const text = newBoardText(boardId, title, parentId ?? null, sample)
  return keep(boardId, text, false, ports)
}

/** @throws AppError `board/invalid`, `board/other-id`; those of `WorkshopTexts.keepBoard` */
export async function saveBoard(
  { boardId, text }: RequestOf<'boards:save'>,
  ports: BoardPorts,
): Promise<ResponseOf<'boards:save'>> {
  return keep(boardId, text, true, ports)
}

/**
 * The limits in which two boards differ.
 * @param find a board by its id, or as it was kept
 */
export async function compareBoards(
  { boardIdA, boardIdB }: RequestOf<'boards:diff'>,
  find: (word: string) => Promise<ShelvedBoard>,
): Promise<ResponseOf<'boards:diff'>> {
  const [a, b] = await Promise.all([find(boardIdA), find(boardIdB)])
  const differences = diffBoards(a.board, b.board).map(({ limit, a: ofA, b: ofB }) => ({
    limit,
    a: { words: ofA.words, known: ofA.known },
    b: { words: ofB.words, known: ofB.known },
  }))
  return { boardA: a.board.id, boardB: b.board.id, differences }
}

/**
 * A first board from a card that plays; kept in the workshop where `keep` says so.
 * @throws AppError `draft/no-sounds`; those of `CardObserver.observe` and `WorkshopTexts.keepBoard`
 */
export async function draftBoardFrom(
  { from, boardId, title, keep: isKept }: RequestOf<'boards:draft'>,
  ports: BoardPorts,
  control: RunControl,
): Promise<ResponseOf<'boards:draft'>> {
  refuseBadId(boardId)
  const [card, schemes] = await Promise.all([ports.observer.observe(from, control), ports.listSchemes()])
  const drafted = draftBoard(boardId, title, card, schemes)
  if (drafted.soundCount === 0) {
    throw new AppError({
      code: 'draft/no-sounds',
      what: 'There is no sound on it.',
      where: from,
      mend: 'Name the root of a card that plays, or its image.',
    })
  }
  const counts = { soundCount: drafted.soundCount, fontFolders: [...drafted.fontFolders] }
  if (isKept) {
    const kept = await keep(boardId, drafted.text, false, ports)
    return { ...kept, ...counts }
  }
  const board = readBoard(drafted.text, 'draft', await surroundingsOf(ports, drafted.text))
  return { board: boardSummaryOf({ board, source: 'workshop' }), text: drafted.text, path: null, ...counts }
}

/**
 * Moves limits of a board of the workshop by sounds that were tried in the hilt: heard, or silent; files,
 * or sounds of the library, which are known already.
 * @throws AppError `board/shipped` for a board that is not the workshop's, `board/nothing-tried`,
 *   `board/heard-and-silent`, `sound/unknown`; those of `CardObserver.inspect`
 */
export async function learnFromSounds(
  { boardId, heard, silent, heardSounds = [], silentSounds = [] }: RequestOf<'boards:learn'>,
  ports: LearnPorts,
  control: RunControl,
): Promise<ResponseOf<'boards:learn'>> {
  const shelved = await ports.getBoard(boardId)
  if (shelved.source === 'shipped') {
    throw new AppError({
      code: 'board/shipped',
      what: 'A shipped board is never changed.',
      where: boardId,
      mend: `Make one of your own: \`boards new my-board --extends ${boardId}\`.`,
    })
  }
  if (heard.length + silent.length + heardSounds.length + silentSounds.length === 0) {
    throw new AppError({
      code: 'board/nothing-tried',
      what: 'No sound was named.',
      where: boardId,
      mend: 'Name the sounds that were heard in the hilt, and those that stayed silent.',
    })
  }
  const heardAll = [...(await filesTried(heard, ports, control)), ...(await soundsTried(heardSounds, ports))]
  const silentAll = [
    ...(await filesTried(silent, ports, control)),
    ...(await soundsTried(silentSounds, ports)),
  ]
  refuseBoth(heardAll, silentAll)
  const { moves, unclear } = learnLimits(shelved.board, heardAll, silentAll)
  const kept = await keep(boardId, withMoves(shelved.text, moves), true, ports)
  const told = moves.map(({ limit, known, because }) => ({ limit, known, because }))
  return { ...kept, moves: told, unclear: [...unclear] }
}

export interface LearnPorts extends BoardPorts {
  readonly library: Pick<LibraryReader, 'findSound' | 'getEditions'>
}

async function filesTried(
  paths: readonly string[],
  { observer }: Pick<LearnPorts, 'observer'>,
  control: RunControl,
): Promise<readonly TriedSound[]> {
  const inspections = await observer.inspect(paths, control)
  return paths.flatMap((path, index) => {
    const inspection = inspections[index]
    return inspection === undefined ? [] : [{ path, inspection }]
  })
}

async function soundsTried(
  ids: readonly string[],
  { library }: Pick<LearnPorts, 'library'>,
): Promise<readonly TriedSound[]> {
  const found = await Promise.all(
    ids.map(async (id) => {
      const sound = await library.findSound(id)
      if (sound !== undefined) return sound
      throw new AppError({
        code: 'sound/unknown',
        what: 'The last scan has replaced this sound.',
        where: id,
        mend: 'Open its font again and choose it there.',
      })
    }),
  )
  const editions = await library.getEditions([...new Set(found.map(({ editionId }) => editionId))])
  return found.flatMap(({ editionId, path }) => {
    const edition = editions.find(({ id }) => id === editionId)
    const sound = edition?.sounds.find((each) => each.path === path)
    return edition === undefined || sound === undefined
      ? []
      : [{ path: `${edition.font.name}: ${path}`, inspection: sound.inspection }]
  })
}

function refuseBoth(heard: readonly TriedSound[], silent: readonly TriedSound[]): void {
  const heardBytes = new Set(heard.map(({ inspection }) => inspection.sha256))
  const both = silent.find(({ inspection }) => heardBytes.has(inspection.sha256))
  if (both === undefined) return
  throw new AppError({
    code: 'board/heard-and-silent',
    what: 'The same sound was said to be heard and to stay silent.',
    where: both.path,
    mend: 'Name it once.',
  })
}

function refuseBadId(id: string): void {
  const read = idOfBoard.safeParse(id)
  if (read.success) return
  const plain = id
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
  const usable = idOfBoard.safeParse(plain).success
  throw new AppError({
    code: 'board/bad-id',
    what: issueSentence(read.error.issues[0]),
    where: id,
    mend: usable ? `Call it "${plain}", or choose another id.` : 'Choose another id.',
  })
}

async function keep(
  boardId: string,
  text: string,
  replace: boolean,
  ports: BoardPorts,
): Promise<ResponseOf<'boards:save'>> {
  const board = readBoard(text, `${boardId}.yaml`, await surroundingsOf(ports, text))
  if (board.id !== boardId) {
    throw new AppError({
      code: 'board/other-id',
      what: `The text says that its board is "${board.id}".`,
      where: boardId,
      mend: 'Give the text the same id, or keep it under its own.',
    })
  }
  const path = await ports.texts.keepBoard(boardId, text, replace)
  return { board: boardSummaryOf({ board, source: 'workshop' }), text, path }
}

/** Parents as they are now; a board's own earlier text is no parent of its new one. */
export async function surroundingsOf(
  ports: Pick<BoardPorts, 'listBoards' | 'sha256Hex'>,
  text: string,
): Promise<Parameters<typeof readBoard>[2]> {
  const { id } = boardIdentity(text)
  const boards = new Map((await ports.listBoards()).map(({ board }) => [board.id, board]))
  if (id !== null) boards.delete(id)
  return {
    parentOf: (parentId) => boards.get(parentId),
    boardIds: [...boards.keys()],
    sha256Hex: (each) => ports.sha256Hex(each),
  }
}
