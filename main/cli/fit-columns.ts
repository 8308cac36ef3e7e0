/** The screen that output goes to, as far as fitting needs it. */
export interface OutputScreen {
  readonly isTTY?: boolean | undefined
  readonly columns?: number | undefined
}

/** Columns of a terminal that does not know its own: some that other programs lend say none, or nought. */
const USUAL_COLUMNS = 80

/** Columns that a text has: those of the terminal; where it goes to a file or another program, as many as it likes. */
export function columnsOf(screen: OutputScreen): number {
  return screen.isTTY === true ? terminalColumns(screen) : Infinity
}

/** Columns of the terminal that is there, or of a usual one. */
export function terminalColumns({ columns = 0 }: OutputScreen): number {
  return columns > 0 ? columns : USUAL_COLUMNS
}

/**
 * A text of several lines with those that are too long broken between words; what goes on is indented
 * as the line's own words are. A word that is too long stays whole, so that a path can be copied, and
 * so does a row of a table: `table` makes it fit, where it can.
 */
export function fitted(text: string, columns: number): string {
  if (columns === Infinity) return text
  return text
    .split('\n')
    .flatMap((line) => {
      const indent = indentOf(line)
      const own = line.slice(indent)
      if (line.length <= columns || own.split(/ {2,}/).length > 2) return [line]
      const [first = '', ...others] = joined(own.split(' '), Math.max(20, columns - indent))
      return [line.slice(0, indent) + first, ...others.map((other) => ' '.repeat(indent) + other)]
    })
    .join('\n')
}

/** Where the words of a line begin: behind its spaces, and behind a first word that stands as in a table. */
function indentOf(line: string): number {
  return /^ *(?:\S{1,20}(?: \S{1,10})? {2,})?/.exec(line)?.[0].length ?? 0
}

/** The text of a cell in lines of a width, broken behind commas where that is enough, else between words. */
export function inWidth(text: string, width: number): readonly string[] {
  if (text.length <= width) return [text]
  const phrases = text.split(/(?<=[,;.]) /)
  return joined(
    phrases.flatMap((phrase) => (phrase.length <= width ? [phrase] : phrase.split(' '))),
    width,
  )
}

/** Pieces with a space between them, as many to a line as it holds. */
function joined(pieces: readonly string[], width: number): readonly string[] {
  const lines: string[] = []
  for (const piece of pieces) {
    const last = lines.at(-1)
    if (last !== undefined && last.length + 1 + piece.length <= width) {
      lines[lines.length - 1] = `${last} ${piece}`
    } else if (piece !== '') lines.push(piece)
  }
  return lines
}

/**
 * How wide the columns of a table are to be for it to fit, the widest narrowed first; as they are where it
 * cannot fit.
 * @param natural width of each column as it is
 * @param least width below which a column cannot go: its longest word
 * @param room what there is for all of them, gaps left out
 */
export function narrowed(
  natural: readonly number[],
  least: readonly number[],
  room: number,
): readonly number[] {
  const widths = [...natural]
  for (let over = widths.reduce((sum, width) => sum + width, 0) - room; over > 0; over--) {
    let widest = -1
    widths.forEach((width, index) => {
      if (width > (least[index] ?? 0) && (widest < 0 || width > (widths[widest] ?? 0))) widest = index
    })
    if (widest < 0) return natural
    widths[widest] = (widths[widest] ?? 0) - 1
  }
  return widths
}
