import { stringify } from 'yaml'
import type { Board } from '../model/board.ts'
import { knowledgeOf } from './board-words.ts'
import { LIMITS } from './limits.ts'
import { valueAt } from './read-board.ts'

/** File name of the schema of board files, where it lies beside them. */
export const BOARD_SCHEMA_FILE = 'board.schema.json'

/** Tells editors with a YAML language server where the schema lies: they complete keys and mark faults. */
export const SCHEMA_LINE = `# yaml-language-server: $schema=${BOARD_SCHEMA_FILE}`

/**
 * A board as a complete text of its own: nothing is left to what it once extended, so that the text
 * kept with a card shows the board as it was. Reading it gives a board of the same hash.
 */
export function boardText(board: Board): string {
  const sections: Record<string, unknown> = {}
  for (const limit of LIMITS) {
    const value = valueAt(board, limit.path)
    if (knowledgeOf(board, limit.path) === 'unknown' && limit.whenUnknown === null) continue
    const [section = '', key] = limit.path.split('.')
    if (key === undefined) sections[section] = value
    else sections[section] = { ...(sections[section] as object | undefined), [key]: value }
  }
  const notes = board.notes === '' ? {} : { notes: board.notes }
  const known = Object.keys(board.known).length === 0 ? {} : { known: board.known }
  const rules = Object.keys(board.rules).length === 0 ? {} : { rules: board.rules }
  return stringify(
    { board: { id: board.id, title: board.title, ...notes }, ...sections, ...known, ...rules },
    { lineWidth: 100, aliasDuplicateObjects: false },
  )
}

/**
 * The text of a new board. With a parent it only says what it extends; without one every limit is
 * listed as a comment with a sample value, unknown until it is filled in.
 */
export function newBoardText(id: string, title: string, parentId: string | null, sample: Board): string {
  const head = stringify({ board: { id, title }, ...(parentId === null ? {} : { extends: parentId }) })
  const lines = [
    SCHEMA_LINE,
    head.trimEnd(),
    '',
    '# Every limit that is left out is unknown and judges nothing; null says that there is none.',
  ]
  if (parentId !== null) {
    lines[3] = '# Set here what differs; every other limit is taken from the board above.'
  }
  let section = ''
  for (const limit of LIMITS) {
    const [of = '', key] = limit.path.split('.')
    const value = valueAt(sample, limit.path) ?? null
    if (of !== section) lines.push(key === undefined ? `#${of}: ${flow(value)}` : `#${of}:`)
    if (key !== undefined) lines.push(`#  ${key}: ${flow(value)}`)
    section = of
  }
  lines.push(
    '# How a limit is known: stated, seen playing, seen failing, unknown.',
    '#known:',
    '#  audio.header: seen playing',
  )
  return `${lines.join('\n')}\n`
}

function flow(value: unknown): string {
  return stringify(value, { collectionStyle: 'flow', lineWidth: 0, aliasDuplicateObjects: false }).trimEnd()
}
