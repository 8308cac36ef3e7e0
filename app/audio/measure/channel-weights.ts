/** Speaker bits of WAVE_FORMAT_EXTENSIBLE (Microsoft, "Extensible Wave-Format Descriptors"). */
const LOW_FREQUENCY = 0x8
const BACK = 0x10 | 0x20
const SIDE = 0x200 | 0x400
const SURROUND_WEIGHT = 1.41
/** Masks of the usual layouts, for files that name none: 5 and 6 channels are L R C (LFE) Ls Rs. */
const USUAL_MASKS: Readonly<Record<number, number>> = { 5: 0x37, 6: 0x3f, 7: 0x13f, 8: 0x63f }

/**
 * Weight of each channel in the loudness sum: 0 for the low-frequency channel, 1.41 for those at the
 * listener's sides (azimuth 60 to 120 degrees), else 1. Back speakers stand there (at 110 degrees)
 * only where a layout has no side ones.
 * Source: ITU-R BS.1770-5, annex 1, table 3, and annex 3, table 4; ITU-R BS.775 for the angles.
 */
export function channelWeights(channels: number, channelMask: number): number[] {
  const mask = countBits(channelMask) >= channels ? channelMask : (USUAL_MASKS[channels] ?? 0)
  const sides = (mask & SIDE) !== 0 ? SIDE : BACK
  const weights: number[] = []
  for (let bit = 0; bit < 32 && weights.length < channels; bit++) {
    const speaker = 2 ** bit
    if ((mask & speaker) === 0) continue
    weights.push(
      speaker === LOW_FREQUENCY ? 0 : (speaker & sides) !== 0 && channels > 4 ? SURROUND_WEIGHT : 1,
    )
  }
  while (weights.length < channels) weights.push(1)
  return weights
}

function countBits(mask: number): number {
  let count = 0
  for (let rest = mask >>> 0; rest !== 0; rest &= rest - 1) count++
  return count
}
