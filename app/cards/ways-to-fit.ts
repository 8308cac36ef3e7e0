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

/** A piece of music on the card, as far as shortening it goes. */
export interface MusicOfCard {
  /** On the card. */
  readonly path: string
  readonly seconds: number
  readonly bytesASecond: number
}

/** What is known of a card's sounds besides their sizes; by their paths on the card. */
export interface SoundsOfCard {
  /** Sizes that sounds would have as prepared copies, where preparing changes them. */
  readonly preparedBytes: ReadonlyMap<string, number>
  readonly music: readonly MusicOfCard[]
}

/**
 * What would make a card fit that does not: each way by itself, what costs nothing first, what costs a
 * font last but for another card.
 *
 * @param input a card whose `sizeOfCard` does not fit
 */
export function waysToFit(
  input: PlanInput,
  fonts: readonly FontOfCard[],
  sounds: SoundsOfCard = { preparedBytes: new Map(), music: [] },
): readonly WayToFit[] {
  const now = sizeOfCard(input)
  if (now.fits) return []
  return [
    ...preparedCopies(input, sounds, now),
    ...otherClusters(input, now),
    ...shorterMusic(input, sounds, now),
    ...fewerFonts(input, fonts, now),
    ...largerCard(input),
  ]
}

/** Copies that are smaller than what is there; larger ones would not be made for the room's sake. */
function preparedCopies(input: PlanInput, { preparedBytes }: SoundsOfCard, now: CardSize): WayToFit[] {
  const smaller = new Map(
    input.files.flatMap(({ path, sizeBytes }) => {
      const prepared = preparedBytes.get(path)
      return prepared !== undefined && prepared < sizeBytes ? [[path, prepared] as const] : []
    }),
  )
  const size = smaller.size === 0 ? null : sizeWith(input, preparedBytes)
  if (size?.fits !== true) return []
  return [{ kind: 'prepare', sounds: smaller.size, freesBytes: Math.max(0, now.usedBytes - size.usedBytes) }]
}

/** Music shorter than this is none worth hearing. */
const SHORTEST_MUSIC_SECONDS = 10

/** The longest limit in whole seconds with which all fits. */
function shorterMusic(input: PlanInput, { music }: SoundsOfCard, now: CardSize): WayToFit[] {
  const sizeAt = (longestSeconds: number): CardSize | null =>
    sizeWith(
      input,
      new Map(
        music
          .filter(({ seconds }) => seconds > longestSeconds)
          .map(({ path, seconds, bytesASecond }) => {
            const whole = input.files.find((file) => file.path === path)?.sizeBytes ?? 0
            const goes = Math.floor((seconds - longestSeconds) * bytesASecond)
            return [path, Math.max(0, whole - goes)]
          }),
      ),
    )
  const longest = Math.floor(Math.max(0, ...music.map(({ seconds }) => seconds)))
  if (longest < SHORTEST_MUSIC_SECONDS || sizeAt(SHORTEST_MUSIC_SECONDS)?.fits !== true) return []
  let fits = SHORTEST_MUSIC_SECONDS
  let tooLong = longest + 1
  while (tooLong - fits > 1) {
    const middle = (fits + tooLong) >> 1
    if (sizeAt(middle)?.fits === true) fits = middle
    else tooLong = middle
  }
  const usedBytes = sizeAt(fits)?.usedBytes ?? now.usedBytes
  const sounds = music.filter(({ seconds }) => seconds > fits).length
  return [{ kind: 'shorter-music', longestSeconds: fits, sounds, freesBytes: now.usedBytes - usedBytes }]
}

/** The card with some of its files of other sizes. */
function sizeWith(input: PlanInput, sizes: ReadonlyMap<string, number>): CardSize | null {
  const files = input.files.map((file) => ({ ...file, sizeBytes: sizes.get(file.path) ?? file.sizeBytes }))
  return sizeOrNull({ ...input, files })
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
