import type { LevelBand } from '../../model/board.ts'

export interface EvennessRow {
  readonly name: string
  readonly humBeforeLufs: number | null
  readonly humAfterLufs: number | null
  /** Effects, as they lie beside the hum. */
  readonly effectsBeforeLufs: readonly number[]
  readonly effectsAfterLufs: readonly number[]
}

const WIDTH = 760
const NAME_WIDTH = 190
const ROW_HEIGHT = 34
const TOP = 46
const MARGIN = 16

/**
 * All fonts of a card in one picture: for each the level of its hum before (ring) and after (disc), its
 * effects as short strokes above (before) and below (after), and the board's band behind. An SVG on its
 * own: no script, nothing fetched; colours also differ in shape, so that it can be printed in grey.
 */
export function evennessPicture(rows: readonly EvennessRow[], band: LevelBand | null): string {
  const all = rows.flatMap((row) => [
    row.humBeforeLufs,
    row.humAfterLufs,
    ...row.effectsBeforeLufs,
    ...row.effectsAfterLufs,
  ])
  const known = [
    ...all.filter((level) => level !== null),
    ...(band ? [band.lowestLufs, band.highestLufs] : []),
  ]
  const low = Math.floor((Math.min(-30, ...known) - 1) / 5) * 5
  const high = Math.ceil((Math.max(-10, ...known) + 1) / 5) * 5
  const x = (level: number) =>
    round(NAME_WIDTH + ((level - low) / (high - low)) * (WIDTH - NAME_WIDTH - MARGIN))
  const height = TOP + rows.length * ROW_HEIGHT + MARGIN
  const ticks = Array.from({ length: (high - low) / 5 + 1 }, (_, index) => low + index * 5)
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label="Loudness of fonts before and after" font-family="system-ui, sans-serif" font-size="13" fill="currentColor">`,
    band === null
      ? ''
      : `<rect x="${x(band.lowestLufs)}" y="${TOP - 8}" width="${round(x(band.highestLufs) - x(band.lowestLufs))}" height="${rows.length * ROW_HEIGHT + 8}" fill="#7aa37a" fill-opacity="0.22"/>`,
    ...ticks.map(
      (level) =>
        `<line x1="${x(level)}" x2="${x(level)}" y1="${TOP - 8}" y2="${height - MARGIN}" stroke="currentColor" stroke-opacity="0.15"/><text x="${x(level)}" y="20" text-anchor="middle">${level}</text>`,
    ),
    `<text x="0" y="20">LUFS</text>`,
    ...rows.flatMap((row, index) => rowPicture(row, TOP + index * ROW_HEIGHT + ROW_HEIGHT / 2, x)),
    '</svg>',
  ]
    .filter((line) => line !== '')
    .join('\n')
}

function rowPicture(row: EvennessRow, y: number, x: (level: number) => number): readonly string[] {
  const { humBeforeLufs: before, humAfterLufs: after } = row
  const stroke = (level: number, from: number, colour: string) =>
    `<line x1="${x(level)}" x2="${x(level)}" y1="${y + from}" y2="${y + from + 7}" stroke="${colour}" stroke-width="1.5"/>`
  return [
    `<text x="0" y="${y + 4}">${escaped(shortened(row.name))}</text>`,
    ...row.effectsBeforeLufs.map((level) => stroke(level, -13, '#b0722c')),
    ...row.effectsAfterLufs.map((level) => stroke(level, 6, '#2c6fb0')),
    ...(before !== null && after !== null
      ? [
          `<line x1="${x(before)}" x2="${x(after)}" y1="${y}" y2="${y}" stroke="currentColor" stroke-opacity="0.5"/>`,
        ]
      : []),
    ...(before === null
      ? []
      : [`<circle cx="${x(before)}" cy="${y}" r="5.5" fill="none" stroke="#b0722c" stroke-width="2"/>`]),
    ...(after === null ? [] : [`<circle cx="${x(after)}" cy="${y}" r="4.5" fill="#2c6fb0"/>`]),
  ]
}

function shortened(name: string): string {
  const letters = [...name]
  return letters.length <= 24 ? name : `${letters.slice(0, 23).join('')}…`
}

function round(value: number): number {
  return Math.round(value * 10) / 10
}

export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
}
