import type { Board, Knowledge } from '../model/board.ts'
import { boardFile } from './board-schema.ts'
import type { BoardFile } from './board-schema.ts'
import { canonicalJson } from './canonical-json.ts'
import { nearestWord } from './edit-distance.ts'
import { LIMITS } from './limits.ts'
import { readYaml, textError } from './yaml-text.ts'
import type { TextProblem } from './yaml-text.ts'

/** What reading a board needs besides its text. */
export interface BoardSurroundings {
  /** The board that `extends` names; undefined where there is none. */
  parentOf(id: string): Board | undefined
  /** Ids of boards that can be extended, for a suggestion. */
  readonly boardIds?: readonly string[]
  /** SHA-256 of the UTF-8 form of a text, in hexadecimal. */
  sha256Hex(text: string): string
}

/** Every fault of a board's text, for an editor; empty where it can be read. */
export function boardProblems(text: string, surroundings: BoardSurroundings): readonly TextProblem[] {
  const reading = boardOf(text, surroundings)
  return 'problems' in reading ? reading.problems : []
}

/**
 * Reads a board from its YAML text, taking over what it extends.
 *
 * A limit that is left out is `unknown`; one that is `null` is known to be none. An unknown limit
 * becomes null, or the usual value where a card cannot be planned without one.
 * @throws AppError `board/invalid` with file, line and column
 */
export function readBoard(text: string, file: string, surroundings: BoardSurroundings): Board {
  const reading = boardOf(text, surroundings)
  if ('problems' in reading) throw textError(reading.problems, file, 'board/invalid')
  return reading.board
}

/** Id and parent of a board's text, as far as they can be told: enough to read parents first. */
export function boardIdentity(text: string): {
  readonly id: string | null
  readonly parentId: string | null
} {
  const reading = readYaml(text, boardFile)
  if (!reading.ok) return { id: null, parentId: null }
  return { id: reading.value.board.id, parentId: reading.value.extends ?? null }
}

function boardOf(
  text: string,
  surroundings: BoardSurroundings,
): { board: Board } | { problems: readonly TextProblem[] } {
  const reading = readYaml(text, boardFile)
  if (!reading.ok) return { problems: reading.problems }
  const file = reading.value
  const parent = file.extends === undefined ? null : surroundings.parentOf(file.extends)
  if (parent === undefined || file.extends === file.board.id) {
    const message =
      file.extends === file.board.id
        ? 'A board cannot extend itself.'
        : `There is no readable board "${file.extends}" to extend.${suggestionFor(file, surroundings)}`
    return { problems: [{ ...reading.positionOf(['extends']), message }] }
  }
  const baseless = LIMITS.filter(
    ({ path }) =>
      parent === null &&
      file.known?.[path] !== undefined &&
      file.known[path] !== 'unknown' &&
      !isGiven(file, path),
  )
  if (baseless.length > 0) {
    const problems = baseless.map(({ path }) => ({
      ...reading.positionOf(['known', path]),
      message: `"${path}" is said to be known, and has no value.`,
    }))
    return { problems }
  }
  return { board: resolved(file, parent, surroundings) }
}

function suggestionFor(
  { board, extends: word = '' }: BoardFile,
  { boardIds = [] }: BoardSurroundings,
): string {
  const nearest = nearestWord(
    word,
    boardIds.filter((id) => id !== board.id),
  )
  return nearest === null ? '' : ` Did you mean "${nearest}"?`
}

function resolved(file: BoardFile, parent: Board | null, { sha256Hex }: BoardSurroundings): Board {
  const sections: Record<string, Record<string, unknown>> = {
    audio: {},
    fonts: {},
    names: {},
    card: {},
    levels: {},
  }
  let config: unknown = null
  const known: Record<string, Knowledge> = {}
  for (const { path, whenUnknown } of LIMITS) {
    const given = isGiven(file, path)
    const inherited = parent === null ? 'unknown' : (parent.known[path] ?? 'stated')
    const knowledge = file.known?.[path] ?? (given ? 'stated' : inherited)
    let value = given ? valueAt(file, path) : parent === null ? whenUnknown : valueAt(parent, path)
    if (knowledge === 'unknown' && whenUnknown === null) value = null
    if (knowledge !== 'stated') known[path] = knowledge
    const [section = '', key] = path.split('.')
    if (key === undefined) config = value
    else Object.assign(sections[section] ?? {}, { [key]: value })
  }
  const { id, title, notes = '' } = file.board
  const rules = { ...parent?.rules, ...file.rules }
  const limits = { ...sections, config, known, rules }
  // Title and notes are for people: changing them makes no other board of it.
  const hash = sha256Hex(canonicalJson({ id, ...limits }))
  return { id, title, notes, hash, ...limits } as unknown as Board
}

function isGiven(file: BoardFile, path: string): boolean {
  return valueAt(file, path) !== undefined
}

/** The value of a limit, by its path, in a board or in a board file. */
export function valueAt(board: BoardFile | Board, path: string): unknown {
  const [section = '', key] = path.split('.')
  const found = (board as unknown as Record<string, unknown>)[section]
  if (key === undefined) return found
  return (found as Record<string, unknown> | null | undefined)?.[key]
}
