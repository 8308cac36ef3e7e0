import type { Board, BoardLevels } from '../../model/board.ts'

/** The hums of one font, as heard through the speaker where that is known. */
export interface HumLevels {
  readonly editionId: string
  readonly name: string
  readonly levelsLufs: readonly number[]
  /** The user's own word: a gain, or null for none at all; absent where they said nothing. */
  readonly chosenDb?: number | null
  /** Whether other steps change these hums: rounding can then move them by a hair. */
  readonly isAltered?: boolean
}

/** One gain for a whole font. */
export interface FontGain {
  readonly gainDb: number
  /** The rule that asks for it. */
  readonly rule: 'level' | 'card-level-spread' | 'user'
  readonly reason: string
}

/** Raising by more would raise the noise of the recording with it (common practice, no source). */
const MOST_RAISE_DB = 20
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
 * @returns fonts that are moved, by their edition, and what cannot be reached, in sentences
 */
export function fontGains(
  fonts: readonly HumLevels[],
  levels: BoardLevels,
): { readonly gains: ReadonlyMap<string, FontGain>; readonly told: ReadonlyMap<string, string> } {
  const gains = new Map<string, FontGain>()
  const told = new Map<string, string>()
  const standing = fonts.flatMap((font): Standing[] => {
    if (font.levelsLufs.length === 0) return []
    return [{ ...font, loudest: Math.max(...font.levelsLufs), softest: Math.min(...font.levelsLufs) }]
  })
  const aim = aimOf(standing, levels)
  if (aim === null) return { gains, told }
  const moved = new Map<string, number>()
  for (const font of standing) {
    const gain = font.chosenDb === undefined ? bandGain(font, levels, aim) : chosenGain(font)
    if (gain !== null) settle(font, gain)
    moved.set(font.editionId, font.loudest + (gains.get(font.editionId)?.gainDb ?? 0))
  }
  const isAnyMade = gains.size > 0 || standing.some(({ isAltered }) => isAltered === true)
  for (const font of unevenOf(standing, moved, levels, aim, isAnyMade ? EDGE_MARGIN_LU : 0)) {
    if (font.chosenDb !== undefined) continue
    const reason = `Its hum has ${one(font.loudest)} LUFS; the hums of one card must lie within ${levels.spreadLu} LU.`
    settle(font, { gainDb: aim - font.loudest, rule: 'card-level-spread', reason })
  }
  return { gains, told }

  function settle(font: Standing, gain: FontGain): void {
    const isCapped = gain.rule !== 'user' && gain.gainDb > MOST_RAISE_DB
    const gainDb = Math.round(Math.min(gain.gainDb, isCapped ? MOST_RAISE_DB : Infinity) * 100) / 100
    // A font that was to move into its band and is then evened has only the last word.
    gains.delete(font.editionId)
    told.delete(font.editionId)
    if (Math.abs(gainDb) < LEAST_CHANGE_DB) return
    gains.set(font.editionId, { ...gain, gainDb })
    if (!isCapped) return
    told.set(
      font.editionId,
      `The hum of ${font.name} would need ${one(gain.gainDb)} dB more; it is raised by ${MOST_RAISE_DB} dB, since its noise rises with it.`,
    )
  }
}

/** The level that fonts are brought to: the middle of the band, else the usual one of the card. */
function aimOf(fonts: readonly Standing[], levels: BoardLevels): number | null {
  if (levels.hum !== null) return (levels.hum.lowestLufs + levels.hum.highestLufs) / 2
  const sorted = fonts.map(({ loudest }) => loudest).sort((a, b) => a - b)
  return sorted[sorted.length >> 1] ?? null
}

function bandGain(font: Standing, { hum }: BoardLevels, aim: number): FontGain | null {
  if (hum === null) return null
  const margin = font.isAltered === true ? EDGE_MARGIN_LU : 0
  if (font.softest >= hum.lowestLufs + margin && font.loudest <= hum.highestLufs - margin) return null
  let gainDb = aim - font.loudest
  if (font.softest + gainDb < hum.lowestLufs) {
    gainDb = Math.min(hum.lowestLufs - font.softest, hum.highestLufs - font.loudest)
  }
  const reason = `Its hum has ${one(font.loudest)} LUFS; the board's band is ${hum.lowestLufs} to ${hum.highestLufs} LUFS.`
  return { gainDb, rule: 'level', reason }
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
  // A prepared font lands within a tenth of the aim.
  const most = spreadLu / 2 - LEAST_CHANGE_DB / 2
  return fonts.filter((font) => Math.abs((moved.get(font.editionId) ?? aim) - aim) > most)
}

function one(value: number): string {
  return value.toFixed(1)
}
