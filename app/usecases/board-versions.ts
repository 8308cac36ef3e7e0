import { readBoard } from '../boards/read-board.ts'
import { RULE_IDS, SEVERITIES_BY_RULE, severityOf } from '../boards/rules/severities.ts'
import { isFingerprint } from '../cards/fingerprint.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import { AppError } from '../errors/app-error.ts'
import type { RecordsReader } from '../ports/bench-records.ts'
import { buildCodesOf } from './builds-of-content.ts'
import { boardSummaryOf, surroundingsOf, type BoardPorts, type ShelvedBoard } from './keep-boards.ts'

export interface BoardVersionPorts extends Pick<BoardPorts, 'getBoard' | 'listBoards' | 'sha256Hex'> {
  readonly records: Pick<
    RecordsReader,
    'listBoardTexts' | 'findBoardText' | 'findContent' | 'listContents' | 'listBuilds'
  >
}

/** So much of a hash names a version, as long as no other begins alike. */
const SHORTEST_HASH = /^[0-9a-f]{8,64}$/

/**
 * A board in words: of the shelf by its id, or as it was kept when a card was made with it, by its
 * hash (eight characters suffice) or by the fingerprint of that card.
 * @throws AppError `board/unknown`, `board/ambiguous`; `board/invalid` for a kept text that no longer reads
 */
export async function showBoard(
  { boardId }: RequestOf<'boards:show'>,
  ports: BoardVersionPorts,
): Promise<ResponseOf<'boards:show'>> {
  const found = await boardByWord(boardId, ports)
  return { board: boardSummaryOf(found), text: found.text }
}

/** As `showBoard` finds a board. */
export async function boardByWord(word: string, ports: BoardVersionPorts): Promise<ShelvedBoard> {
  try {
    return await ports.getBoard(word)
  } catch (error) {
    if (!(error instanceof AppError) || error.code !== 'board/unknown') throw error
    const hash = await keptHashOf(word, ports)
    if (hash === null) throw error
    return keptBoard(hash, ports)
  }
}

async function keptHashOf(
  word: string,
  { records }: Pick<BoardVersionPorts, 'records'>,
): Promise<string | null> {
  const fingerprint = word.trim().toUpperCase()
  if (isFingerprint(fingerprint)) {
    const content = await records.findContent(fingerprint)
    if (content !== undefined) return content.boardHash
  }
  const start = word.trim().toLowerCase()
  if (!SHORTEST_HASH.test(start)) return null
  const alike = (await records.listBoardTexts()).filter(({ hash }) => hash.startsWith(start))
  if (alike.length > 1) {
    throw new AppError({
      code: 'board/ambiguous',
      what: `${alike.length} kept boards have a hash that begins so.`,
      where: word,
      mend: 'Give more of the hash; `boards versions` lists them whole.',
    })
  }
  return alike[0]?.hash ?? null
}

/** Its hash is the one that was recorded: limits that came to be known to the program later change nothing of that. */
async function keptBoard(hash: string, ports: BoardVersionPorts): Promise<ShelvedBoard> {
  const text = await ports.records.findBoardText(hash)
  if (text === undefined) {
    throw new AppError({
      code: 'board/not-kept',
      what: 'The text of this board was not kept.',
      where: hash,
      mend: 'Open the workshop that made the card with --workshop.',
    })
  }
  const board = readBoard(text, `board ${hash.slice(0, 12)}`, await surroundingsOf(ports, text))
  return { board: { ...board, hash }, text, source: 'kept' }
}

/** Every board as something was recorded with it, newest first, with the cards made by it. */
export async function listBoardVersions(
  { boardId }: RequestOf<'boards:versions'>,
  { records, listBoards }: BoardVersionPorts,
): Promise<ResponseOf<'boards:versions'>> {
  const [texts, contents, builds, boards] = await Promise.all([
    records.listBoardTexts(),
    records.listContents(),
    records.listBuilds(),
    listBoards(),
  ])
  const current = new Set(boards.map(({ board }) => board.hash))
  const versions = texts
    .filter((text) => boardId === undefined || text.boardId === boardId)
    .map(({ hash, boardId: board, keptAt }) => ({
      board,
      hash,
      keptAt,
      isCurrent: current.has(hash),
      cards: contents
        .filter((content) => content.boardHash === hash)
        .map((content) => ({
          fingerprint: content.fingerprint,
          createdAt: content.createdAt,
          ...buildCodesOf(content, builds),
        })),
    }))
  return { versions }
}

/** Every rule, how grave it is and why; with a board's own word where it has one. @throws AppError `board/unknown` */
export async function listRules(
  { boardId }: RequestOf<'boards:rules'>,
  ports: BoardVersionPorts,
): Promise<ResponseOf<'boards:rules'>> {
  const board = boardId === undefined ? null : (await boardByWord(boardId, ports)).board
  const rules = RULE_IDS.map((rule) => ({
    rule,
    severity: severityOf(rule, false),
    inPlace: severityOf(rule, true),
    because: SEVERITIES_BY_RULE[rule].because,
    change: board?.rules[rule] ?? null,
  }))
  return { board: board?.id ?? null, rules }
}
