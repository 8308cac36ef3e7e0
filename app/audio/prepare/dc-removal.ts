import { eachBlock, type SampleSource } from './sample-source.ts'

/** Mean of each channel, as a fraction of full scale. */
export function channelMeans(source: SampleSource): number[] {
  const sums = new Float64Array(source.channels)
  eachBlock(source, (block) => {
    block.forEach((samples, channel) => {
      let sum = 0
      for (const sample of samples) sum += sample
      sums[channel] = (sums[channel] ?? 0) + sum
    })
  })
  return Array.from(sums, (sum) => (source.frames === 0 ? 0 : sum / source.frames))
}

/**
 * The sound less a constant a channel. A filter would need time to settle, and would bend the very
 * start of a sound and the seam of a loop; a constant moves nothing but the rest position.
 */
export function withoutOffset(source: SampleSource, offsets: readonly number[]): SampleSource {
  return {
    ...source,
    read: (from, frames, into) => {
      source.read(from, frames, into)
      const first = Math.max(0, -from)
      const last = Math.min(frames, source.frames - from)
      into.forEach((samples, channel) => {
        const offset = offsets[channel] ?? 0
        for (let frame = first; frame < last; frame++) samples[frame] = (samples[frame] ?? 0) - offset
      })
    },
  }
}
