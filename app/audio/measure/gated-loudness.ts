import { loudnessLufs, meanSquareOf } from './decibels.ts'

const ABSOLUTE_GATE_LUFS = -70

/**
 * Integrated loudness of 400 ms blocks that overlap by 75 %: those above -70 LUFS, and of them those
 * no more than 10 LU below their mean. Null where no block is above the gate.
 * Source: ITU-R BS.1770-5, annex 1, equations 3 to 7.
 * @param blocks weighted mean square of each block
 */
export function integratedLoudness(blocks: Float64Array): number | null {
  const audible = meanAbove(blocks, meanSquareOf(ABSOLUTE_GATE_LUFS))
  if (audible === null) return null
  const gate = Math.max(audible * 10 ** (-10 / 10), meanSquareOf(ABSOLUTE_GATE_LUFS))
  const mean = meanAbove(blocks, gate)
  return mean === null ? null : loudnessLufs(mean)
}

/**
 * Loudness range: from the 10th to the 95th percentile of the short-term loudness, of what is above
 * -70 LUFS and no more than 20 LU below the mean of that. Null where nothing is.
 * Source: EBU Tech 3342, section 3 and its annex.
 * @param blocks weighted mean square of each 3 s window
 */
export function loudnessRange(blocks: Float64Array): number | null {
  const audible = meanAbove(blocks, meanSquareOf(ABSOLUTE_GATE_LUFS))
  if (audible === null) return null
  const gate = Math.max(audible * 10 ** (-20 / 10), meanSquareOf(ABSOLUTE_GATE_LUFS))
  const kept = blocks.filter((power) => power > gate).sort()
  const at = (share: number) => kept[Math.round((kept.length - 1) * share)] ?? 0
  const low = loudnessLufs(at(0.1))
  const high = loudnessLufs(at(0.95))
  return low === null || high === null ? null : high - low
}

function meanAbove(blocks: Float64Array, gate: number): number | null {
  let sum = 0
  let count = 0
  for (const power of blocks) {
    if (power <= gate) continue
    sum += power
    count++
  }
  return count === 0 ? null : sum / count
}
