import type { Seam } from '../../model/measures.ts'
import { HOP_RATE_LOWEST_HZ } from '../../ports/kernel.ts'
import { stepPercentile } from '../kernel/step-classes.ts'
import { powerDb } from './decibels.ts'
import { medianOf } from './median.ts'
import type { SampleLook } from './sample-look.ts'

/** Levels below this count as this, so that a loop that ends in digital silence still has a dip. */
const FLOOR_DB = -120

export interface SeamInput {
  readonly frames: number
  readonly channels: number
  readonly sampleRateHz: number
  /** Distance of neighbouring sample values; 0 for floats. */
  readonly quantum: number
  readonly stepCounts: readonly Uint32Array[]
  /** Energy of each 10 ms hop, one list a channel. */
  readonly hopEnergies: readonly Float64Array[]
}

/**
 * How the end of a sound meets its beginning, of the channel where it is worst: the jump from the
 * last sample to the first over the 99th percentile of all steps, and the dip of the first or last
 * 10 ms below the median 10 ms level.
 */
export function loopSeam(
  look: SampleLook,
  input: SeamInput,
): { seam: Seam; reasons: Record<string, string> } {
  const reasons: Record<string, string> = {}
  const jumpRatio = worstJump(look, input)
  if (jumpRatio === null) reasons['seam.jumpRatio'] = input.frames < 2 ? 'fewer-than-2-frames' : 'constant'
  const dipDb = worstDip(look, input)
  if (dipDb === null) reasons['seam.dipDb'] = whyNoDip(input)
  return { seam: { jumpRatio, dipDb }, reasons }
}

function whyNoDip(input: SeamInput): string {
  if (input.sampleRateHz < HOP_RATE_LOWEST_HZ) return 'sample-rate-out-of-range'
  return hopFrames(input) > input.frames ? 'shorter-than-10-ms' : 'silent'
}

function worstJump(look: SampleLook, input: SeamInput): number | null {
  if (input.frames < 2) return null
  const first = look.samples(0, 1).slice()
  const last = look.samples(input.frames - 1, 1)
  const ratios = input.stepCounts.flatMap((counts, channel) => {
    const jump = Math.abs((first[channel] ?? 0) - (last[channel] ?? 0))
    const usual = stepPercentile(counts, input.frames - 1, 0.99, input.quantum)
    // A sound that hardly ever moves has no usual step; its jump is held against one sample value.
    const step = usual > 0 ? usual : input.quantum
    return step > 0 ? [jump / step] : jump === 0 ? [0] : []
  })
  return ratios.length === 0 ? null : Math.max(...ratios)
}

function worstDip(look: SampleLook, input: SeamInput): number | null {
  const edge = hopFrames(input)
  if (edge > input.frames || input.sampleRateHz < HOP_RATE_LOWEST_HZ) return null
  const begin = edgeLevels(look, 0, edge, input.channels)
  const end = edgeLevels(look, input.frames - edge, edge, input.channels)
  const dips = input.hopEnergies.flatMap((energies, channel) => {
    const median = powerDb(medianOf(energies) / (input.sampleRateHz / 100))
    if (median === null || median <= FLOOR_DB) return []
    return [Math.min(begin[channel] ?? FLOOR_DB, end[channel] ?? FLOOR_DB) - median]
  })
  return dips.length === 0 ? null : Math.min(...dips)
}

function hopFrames(input: SeamInput): number {
  return Math.max(1, Math.round(input.sampleRateHz / 100))
}

function edgeLevels(look: SampleLook, from: number, frames: number, channels: number): number[] {
  const samples = look.samples(from, frames)
  return Array.from({ length: channels }, (_, channel) => {
    let energy = 0
    for (let index = channel; index < samples.length; index += channels) energy += (samples[index] ?? 0) ** 2
    return Math.max(FLOOR_DB, powerDb(energy / frames) ?? FLOOR_DB)
  })
}
