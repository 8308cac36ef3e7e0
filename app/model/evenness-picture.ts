import type { LevelBand } from './board.ts'
import type { Role } from './role.ts'

/** What the picture needs of a prepared font. */
export interface FontToPicture {
  readonly font: string
  readonly humBeforeLufs: number | null
  readonly humAfterLufs: number | null
  readonly sounds: readonly {
    readonly role: Role | null
    readonly before: { readonly levelLufs: number | null }
    /** Null where nothing was made. */
    readonly after: { readonly levelLufs: number | null } | null
    /** What would be made; null where something was, or need not be. */
    readonly foreseen: { readonly levelLufs: number | null } | null
  }[]
}

/** What a shape stands for; whoever draws it chooses its colour. */
export type PictureTone = 'before' | 'after' | 'band' | 'scale' | 'move'

/** A shape of the picture, in its own units from the top left. */
export type PictureShape =
  | {
      readonly kind: 'area'
      readonly tone: PictureTone
      readonly x: number
      readonly y: number
      readonly width: number
      readonly height: number
    }
  | {
      readonly kind: 'line'
      readonly tone: PictureTone
      readonly x1: number
      readonly x2: number
      readonly y1: number
      readonly y2: number
    }
  | { readonly kind: 'ring'; readonly tone: PictureTone; readonly x: number; readonly y: number }
  | { readonly kind: 'disc'; readonly tone: PictureTone; readonly x: number; readonly y: number }
  | {
      readonly kind: 'text'
      readonly x: number
      readonly y: number
      readonly anchor: 'start' | 'middle'
      readonly text: string
    }

export interface EvennessPicture {
  readonly width: number
  readonly height: number
  readonly shapes: readonly PictureShape[]
}

const WIDTH = 760
const NAME_WIDTH = 190
const ROW_HEIGHT = 34
const TOP = 46
const MARGIN = 16
const STROKE = 7

/**
 * All fonts of a card in one picture: for each the level of its hum before (ring) and after (disc), its
 * effects as short strokes above (before) and below (after), and the board's band behind. Before and
 * after differ in shape and place as well as in colour, so that it can be printed in grey.
 */
export function evennessPicture(fonts: readonly FontToPicture[], band: LevelBand | null): EvennessPicture {
  const rows = fonts.map(rowOf)
  const known = [
    ...rows.flatMap(({ humBefore, humAfter, before, after }) => [humBefore, humAfter, ...before, ...after]),
    ...(band === null ? [] : [band.lowestLufs, band.highestLufs]),
  ].filter((level) => level !== null)
  const low = Math.floor((Math.min(-30, ...known) - 1) / 5) * 5
  const high = Math.ceil((Math.max(-10, ...known) + 1) / 5) * 5
  const x = (level: number) =>
    round(NAME_WIDTH + ((level - low) / (high - low)) * (WIDTH - NAME_WIDTH - MARGIN))
  const height = TOP + rows.length * ROW_HEIGHT + MARGIN
  const ticks = Array.from({ length: (high - low) / 5 + 1 }, (_, index) => low + index * 5)
  return {
    width: WIDTH,
    height,
    shapes: [
      ...bandShapes(band, x, rows.length),
      ...ticks.flatMap((level): PictureShape[] => [
        { kind: 'line', tone: 'scale', x1: x(level), x2: x(level), y1: TOP - 8, y2: height - MARGIN },
        { kind: 'text', x: x(level), y: 20, anchor: 'middle', text: String(level).replace('-', '−') },
      ]),
      { kind: 'text', x: 0, y: 20, anchor: 'start', text: 'LUFS' },
      ...rows.flatMap((row, index) => rowShapes(row, TOP + index * ROW_HEIGHT + ROW_HEIGHT / 2, x)),
    ],
  }
}

interface Row {
  readonly name: string
  readonly humBefore: number | null
  readonly humAfter: number | null
  /** Effects, as they lie beside the hum. */
  readonly before: readonly number[]
  readonly after: readonly number[]
}

function rowOf({ font, humBeforeLufs, humAfterLufs, sounds }: FontToPicture): Row {
  const effects = sounds.filter(({ role }) => role !== null && role !== 'hum' && role !== 'music')
  const known = (level: number | null) => level !== null
  return {
    name: font,
    humBefore: humBeforeLufs,
    humAfter: humAfterLufs,
    before: effects.map(({ before }) => before.levelLufs).filter(known),
    after: effects
      .map(({ before, after, foreseen }) => (after ?? foreseen ?? before).levelLufs)
      .filter(known),
  }
}

function bandShapes(
  band: LevelBand | null,
  x: (level: number) => number,
  rowCount: number,
): readonly PictureShape[] {
  if (band === null) return []
  const left = x(band.lowestLufs)
  const width = round(x(band.highestLufs) - left)
  return [{ kind: 'area', tone: 'band', x: left, y: TOP - 8, width, height: rowCount * ROW_HEIGHT + 8 }]
}

function rowShapes(row: Row, y: number, x: (level: number) => number): readonly PictureShape[] {
  const { humBefore, humAfter } = row
  const stroke = (level: number, from: number, tone: PictureTone): PictureShape => {
    return { kind: 'line', tone, x1: x(level), x2: x(level), y1: y + from, y2: y + from + STROKE }
  }
  return [
    { kind: 'text', x: 0, y: y + 4, anchor: 'start', text: shortened(row.name) },
    ...row.before.map((level) => stroke(level, -13, 'before')),
    ...row.after.map((level) => stroke(level, 6, 'after')),
    ...(humBefore !== null && humAfter !== null
      ? [{ kind: 'line', tone: 'move', x1: x(humBefore), x2: x(humAfter), y1: y, y2: y } as const]
      : []),
    ...(humBefore === null ? [] : [{ kind: 'ring', tone: 'before', x: x(humBefore), y } as const]),
    ...(humAfter === null ? [] : [{ kind: 'disc', tone: 'after', x: x(humAfter), y } as const]),
  ]
}

function shortened(name: string): string {
  const letters = [...name]
  return letters.length <= 24 ? name : `${letters.slice(0, 23).join('')}…`
}

function round(value: number): number {
  return Math.round(value * 10) / 10
}
