import { AppError } from '../errors/app-error.ts'
import type { CardFile } from '../model/plan.ts'
import type { WayToFit } from '../model/way-to-fit.ts'
import { sizeOfCard, type CardSize } from './card-size.ts'
import { CLUSTER_SIZES } from './geometry.ts'
import type { PlanInput } from './plan-card.ts'

/** A font of the card with the files that go when it is left out. */
export interface FontOfCard {
  readonly name: string
  readonly files: readonly CardFile[]
}

/**
 * What would make a card fit that does not: each way by itself, what costs no font first.
 *
 * @param input a card whose `sizeOfCard` does not fit
 */
export function waysToFit(input: PlanInput, fonts: readonly FontOfCard[]): readonly WayToFit[] {
  const now = sizeOfCard(input)
  if (now.fits) return []
  return [...otherClusters(input, now), ...fewerFonts(input, fonts, now), ...largerCard(input)]
}

/** The cluster size nearest to the board's with which all fits. */
function otherClusters(input: PlanInput, now: CardSize): WayToFit[] {
  const { clusterBytes } = now.geometry
  const nearest = [...CLUSTER_SIZES]
    .filter((other) => other !== clusterBytes)
    .sort((a, b) => Math.abs(Math.log2(a / clusterBytes)) - Math.abs(Math.log2(b / clusterBytes)))
  for (const other of nearest) {
    const size = sizeOrNull({ ...input, board: { ...input.board, clusterBytes: other } })
    if (size?.fits !== true) continue
    const freesBytes = Math.max(0, now.usedBytes - size.usedBytes)
    return [{ kind: 'cluster-size', clusterBytes: other, freesBytes }]
  }
  return []
}

function fewerFonts(input: PlanInput, fonts: readonly FontOfCard[], now: CardSize): WayToFit[] {
  const sizeWithout = (left: readonly FontOfCard[]): CardSize | null => {
    const gone = new Set(left.flatMap((font) => font.files.map((file) => file.path)))
    return sizeOrNull({ ...input, files: input.files.filter((file) => !gone.has(file.path)) })
  }
  const weighed = fonts
    .map((font) => ({ font, freesBytes: now.usedBytes - (sizeWithout([font])?.usedBytes ?? now.usedBytes) }))
    .sort((a, b) => b.freesBytes - a.freesBytes)
    .map(({ font }) => font)
  // The largest fonts free the most: so many of them are the fewest that are enough.
  for (let count = 1; count < weighed.length; count++) {
    const largest = weighed.slice(0, count)
    if (sizeWithout(largest)?.fits !== true) continue
    // Of the last one, the smallest that is still enough will do.
    const kept = largest.slice(0, -1)
    const last = weighed.slice(count - 1).findLast((font) => sizeWithout([...kept, font])?.fits === true)
    const left = last === undefined ? largest : [...kept, last]
    const freesBytes = now.usedBytes - (sizeWithout(left)?.usedBytes ?? now.usedBytes)
    return [{ kind: 'leave-out', fonts: left.map((font) => font.name), freesBytes }]
  }
  return []
}

function largerCard(input: PlanInput): WayToFit[] {
  const size = sizeOrNull({ ...input, imageBytes: null })
  return size === null ? [] : [{ kind: 'larger-card', imageBytes: size.geometry.imageBytes }]
}

/** A way that no card can take is no way. */
function sizeOrNull(input: PlanInput): CardSize | null {
  try {
    return sizeOfCard(input)
  } catch (error) {
    if (error instanceof AppError) return null
    throw error
  }
}
