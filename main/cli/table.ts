import Table from 'cli-table3'
import { columnsOf, inWidth, narrowed } from './fit-columns.ts'
import { printable } from './printable.ts'

/** A cell: numbers stand on the right, null is an en dash. */
export type Cell = string | number | { readonly value: number; readonly decimals: number } | null

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

const GAP = NO_LINES.middle.length

/**
 * A table for people: a line of headings, then a line a row, without ruled lines or colour. Where it is
 * wider than the terminal, texts go on in the next line of their column.
 * @param columns those of the terminal; as many as it likes where there is none
 */
export function table(
  headings: readonly string[],
  rows: readonly (readonly Cell[])[],
  columns = columnsOf(process.stdout),
): string {
  const isNumber = headings.map((_, column) => rows.some((row) => isRight(row[column] ?? null)))
  const shown = rows.map((row) => row.map(inText))
  const widths = widthsFor([headings, ...shown], columns)
  const sheet = new Table({
    head: [...headings],
    chars: NO_LINES,
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0 },
    colAligns: isNumber.map((right) => (right ? 'right' : 'left')),
  })
  sheet.push(
    ...shown.map((row) => row.map((cell, column) => inWidth(cell, widths[column] ?? Infinity).join('\n'))),
  )
  return sheet
    .toString()
    .split('\n')
    .map((line) => line.trimEnd())
    .join('\n')
}

function isRight(cell: Cell): boolean {
  return typeof cell === 'number' || (typeof cell === 'object' && cell !== null)
}

function inText(cell: Cell): string {
  if (cell === null) return '–'
  return printable(typeof cell === 'object' ? cell.value.toFixed(cell.decimals) : String(cell))
}

function widthsFor(lines: readonly (readonly string[])[], columns: number): readonly number[] {
  const longest = (lengthOf: (text: string) => number) =>
    (lines[0] ?? []).map((_, column) => Math.max(...lines.map((line) => lengthOf(line[column] ?? ''))))
  const natural = longest((text) => text.length)
  if (columns === Infinity) return natural
  const longestWords = longest((text) => Math.max(...text.split(' ').map((word) => word.length)))
  return narrowed(natural, longestWords, columns - GAP * (natural.length - 1))
}

/** A number with all its decimals, so that points stand below one another; null where it is not known. */
export function decimal(value: number | null | undefined, decimals: number): Cell {
  return value === null || value === undefined ? null : { value, decimals }
}

/** `3 sounds`, `1 sound`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`
}
