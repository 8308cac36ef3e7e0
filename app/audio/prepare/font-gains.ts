import type { Board, BoardLevels } from '../../model/board.ts'
import { MOST_LIMITING_DB } from './most-limiting.ts'

/** The hums of one font, as heard through the speaker where that is known. */
export interface HumLevels {
  readonly editionId: string
  readonly name: string
  readonly levelsLufs: readonly number[]
  /** The user's own word: a gain, or null for none at all; absent where they said nothing. */
  readonly chosenDb?: number | null
  /** Whether other steps change these hums: rounding can then move them by a hair. */
  readonly isAltered?: boolean
  /** Gain that brings the loudest hum to its aim, where a limiter takes part of it. */
  readonly toAimDb?: number
  /** Gain beyond which the limiter would take away more than it may. */
  readonly mostDb?: number
}

/** One gain for a whole font. */
export interface FontGain {
  readonly gainDb: number
  /** The rule that asks for it. */
  readonly rule: 'level' | 'card-level-spread' | 'user'
  readonly reason: string
}

/** Raising by more would raise the noise of the recording with it (common practice, no source). */
export const MOST_RAISE_DB = 20
/** A smaller change than this cannot be heard, and would never come to rest. */
const LEAST_CHANGE_DB = 0.1
/**
 * What is made anew must lie inside its limits by this, so that rounding does not take it out again
 * and the next run find it there.
 */
export const EDGE_MARGIN_LU = 0.05

/** What hums are evened to where nobody knows the board's own limit. Common practice, no source. */
const USUAL_SPREAD_LU = 1

/** How far the hums of one card may lie apart; null where the board is known to set no limit. */
export function spreadToHold({ levels, known }: Pick<Board, 'levels' | 'known'>): number | null {
  return levels.spreadLu ?? (known['levels.spreadLu'] === 'unknown' ? USUAL_SPREAD_LU : null)
}

interface Standing extends HumLevels {
  readonly loudest: number
  readonly softest: number
}

/**
 * One gain a font, from its hums: fonts whose hums lie outside the board's band come to its middle;
 * of those inside, the ones that keep the card from being even come there too. A font that is inside
 * and even is left alone, so that doing this again does nothing.
 *
 * @returns fonts that are moved, by their edition; what cannot be reached, in sentences; and where the
 *   loudest hum of each font lands
 */
export function fontGains(
  fonts: readonly HumLevels[],
  levels: BoardLevels,
): {
  readonly gains: ReadonlyMap<string, FontGain>
  readonly told: ReadonlyMap<string, string>
  readonly landings: ReadonlyMap<string, number>
} {
  const gains = new Map<string, FontGain>()
  const told = new Map<string, string>()
  const standing = fonts.flatMap((font): Standing[] => {
    if (font.levelsLufs.length === 0) return []
    return [{ ...font, loudest: Math.max(...font.levelsLufs), softest: Math.min(...font.levelsLufs) }]
  })
  const aim = aimOf(standing, levels)
  const moved = new Map(standing.map(({ editionId, loudest }) => [editionId, loudest]))
  if (aim === null) return { gains, told, landings: moved }
  for (const font of standing) {
    const gain = font.chosenDb === undefined ? bandGain(font, levels, toRest(font, aim)) : chosenGain(font)
    if (gain !== null) settle(font, gain, aim)
  }
  const isAnyMade = gains.size > 0 || standing.some(({ isAltered }) => isAltered === true)
  for (const font of unevenOf(standing, moved, levels, aim, isAnyMade ? EDGE_MARGIN_LU : 0)) {
    // What was told as out of reach is no nearer this way.
    if (font.chosenDb !== undefined || told.has(font.editionId)) continue
    const reason = `Its hum has ${one(font.loudest)} LUFS; the hums of one card must lie within ${levels.spreadLu} LU.`
    settle(font, { gainDb: toRest(font, aim), rule: 'card-level-spread', reason }, aim)
  }
  return { gains, told, landings: moved }

  /** Gain to where a font rests wherever it comes from: else it would move again the next time. */
  function toRest(font: Standing, target: number): number {
    const isAlone = levels.spreadLu === null || standing.length < 2
    const most = isAlone ? Infinity : mostOffAim(levels.spreadLu ?? 0)
    return toAim(font, target) + aboveAim(font, levels, target, most)
  }

  function settle(font: Standing, gain: FontGain, target: number): void {
    const most = Math.min(MOST_RAISE_DB, font.mostDb ?? Infinity)
    const isCapped = gain.rule !== 'user' && gain.gainDb > most
    const gainDb = Math.round((isCapped ? most : gain.gainDb) * 100) / 100
    // A font that was to move into its band and is then evened has only the last word.
    gains.delete(font.editionId)
    told.delete(font.editionId)
    moved.set(font.editionId, font.loudest)
    if (Math.abs(gainDb) < LEAST_CHANGE_DB) return
    gains.set(font.editionId, { ...gain, gainDb })
    moved.set(font.editionId, target - (toAim(font, target) - gainDb))
    if (isCapped) told.set(font.editionId, cappedWords(font, gain.gainDb, gainDb, levels))
  }
}

function cappedWords(
  { name }: Standing,
  wantedDb: number,
  gainDb: number,
  { mostLimitingDb }: BoardLevels,
): string {
  const wants = `The hum of ${name} would need ${one(wantedDb)} dB more; it is`
  if (gainDb >= MOST_RAISE_DB) return `${wants} raised by ${MOST_RAISE_DB} dB, since its noise rises with it.`
  const moves = gainDb < 0 ? `lowered by ${one(-gainDb)} dB` : `raised by ${one(gainDb)} dB`
  return `${wants} ${moves}, since its peaks may be limited by no more than ${mostLimitingDb ?? MOST_LIMITING_DB} dB.`
}

/** Gain that brings a font's loudest hum to the level aimed at. */
function toAim({ toAimDb, loudest }: Standing, aim: number): number {
  return toAimDb ?? aim - loudest
}

/** The level that hums are brought to, where the board has a band for them: its middle. */
export function humAim({ hum }: BoardLevels): number | null {
  return hum === null ? null : (hum.lowestLufs + hum.highestLufs) / 2
}

/** The level that fonts are brought to: the middle of the band, else the usual one of the card. */
function aimOf(fonts: readonly Standing[], levels: BoardLevels): number | null {
  const middle = humAim(levels)
  if (middle !== null) return middle
  const sorted = fonts.map(({ loudest }) => loudest).sort((a, b) => a - b)
  return sorted[sorted.length >> 1] ?? null
}

function bandGain(font: Standing, { hum }: BoardLevels, gainDb: number): FontGain | null {
  if (hum === null) return null
  const margin = font.isAltered === true ? EDGE_MARGIN_LU : 0
  if (font.softest >= hum.lowestLufs + margin && font.loudest <= hum.highestLufs - margin) return null
  const reason = `Its hum has ${one(font.loudest)} LUFS; the board's band is ${hum.lowestLufs} to ${hum.highestLufs} LUFS.`
  return { gainDb, rule: 'level', reason }
}

/**
 * How far above the aim the loudest of several hums must rest for the softest to be in the band too: by
 * no more than the band's top allows, and than keeps the card even.
 */
function aboveAim({ loudest, softest }: Standing, { hum }: BoardLevels, aim: number, most: number): number {
  if (hum === null) return 0
  const wanted = hum.lowestLufs + EDGE_MARGIN_LU + (loudest - softest) - aim
  return Math.max(0, Math.min(wanted, hum.highestLufs - EDGE_MARGIN_LU - aim, most))
}

/** How far from the aim a hum may lie with all others as near; a prepared one lands within a tenth of it. */
function mostOffAim(spreadLu: number): number {
  return spreadLu / 2 - LEAST_CHANGE_DB / 2
}

function chosenGain(font: Standing): FontGain | null {
  const gainDb = font.chosenDb ?? null
  return gainDb === null ? null : { gainDb, rule: 'user', reason: 'You asked for it.' }
}

function unevenOf(
  fonts: readonly Standing[],
  moved: ReadonlyMap<string, number>,
  { spreadLu }: BoardLevels,
  aim: number,
  margin: number,
): readonly Standing[] {
  const levels = [...moved.values()]
  if (spreadLu === null || levels.length < 2) return []
  if (Math.max(...levels) - Math.min(...levels) <= spreadLu - margin) return []
  const most = mostOffAim(spreadLu)
  return fonts.filter((font) => Math.abs((moved.get(font.editionId) ?? aim) - aim) > most)
}

function one(value: number): string {
  return value.toFixed(1)
}
