import Table from 'cli-table3'
import { printable } from './printable.ts'

/** A cell: numbers stand on the right, null is an en dash. */
export type Cell = string | number | null

const NO_LINES = {
  top: '',
  'top-mid': '',
  'top-left': '',
  'top-right': '',
  bottom: '',
  'bottom-mid': '',
  'bottom-left': '',
  'bottom-right': '',
  left: '',
  'left-mid': '',
  mid: '',
  'mid-mid': '',
  right: '',
  'right-mid': '',
  middle: '  ',
}

/** A table for people: a line of headings, then a line a row, without ruled lines or colour. */
export function table(headings: readonly string[], rows: readonly (readonly Cell[])[]): string {
  const isNumber = headings.map((_, column) => rows.some((row) => typeof row[column] === 'number'))
  const sheet = new Table({
    head: [...headings],
    chars: NO_LINES,
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0 },
    colAligns: isNumber.map((right) => (right ? 'right' : 'left')),
  })
  sheet.push(...rows.map((row) => row.map((cell) => (cell === null ? '–' : printable(String(cell))))))
  return sheet
    .toString()
    .split('\n')
    .map((line) => line.trimEnd())
    .join('\n')
}

/** `3 sounds`, `1 sound`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`
}
