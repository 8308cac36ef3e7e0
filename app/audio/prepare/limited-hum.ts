import type { HumLimiting, LimitedHum } from '../../model/preparation.ts'

/** The limiter aims a little below its ceiling, and smoothing takes a little more than a peak's excess. */
const LIMITER_SPARE_DB = 0.1
/** Nearer than this to its aim, a gain is taken; it is rounded to half as much. */
const NEAR_LU = 0.02
const MOST_TRIES = 6

/**
 * A limiter takes loudness from a hum with many peaks, so that a gain reckoned from its level alone
 * would leave it too soft. This looks for the gain at which it lands at its aim behind the limiter.
 *
 * @param levelAt level of the hum behind gain and limiter; null where it has none
 * @returns null where no peak comes near the ceiling: then level and gain simply add up
 */
export function limitedHum(
  { levelLufs, truePeakDbtp }: { readonly levelLufs: number | null; readonly truePeakDbtp: number | null },
  { ceilingDbtp, mostReductionDb, aimLufs }: HumLimiting,
  levelAt: (gainDb: number) => number | null,
): LimitedHum | null {
  if (levelLufs === null || truePeakDbtp === null) return null
  const reckonedDb = aimLufs - levelLufs
  const roomDb = ceilingDbtp - truePeakDbtp
  if (Math.max(0, reckonedDb) <= roomDb) return null
  const mostDb = Math.floor((roomDb + mostReductionDb - LIMITER_SPARE_DB) * 100) / 100
  const atRest = roomDb < 0 ? levelAt(Math.min(0, mostDb)) : levelLufs
  if (atRest === null) return null
  return { levelLufs: atRest, toAimDb: toAim(), mostDb }

  function toAim(): number {
    let gainDb = Math.min(reckonedDb, mostDb)
    for (let tries = 0; tries < MOST_TRIES && gainDb > roomDb; tries++) {
      const missed = aimLufs - (levelAt(gainDb) ?? aimLufs)
      if (Math.abs(missed) < NEAR_LU) break
      // As much as is allowed is not enough: told as it would be needed.
      if (gainDb >= mostDb && missed > 0) return gainDb + missed
      gainDb = Math.min(gainDb + missed, mostDb)
    }
    return gainDb
  }
}
