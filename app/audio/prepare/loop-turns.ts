import type { SampleSource } from './sample-source.ts'

/**
 * A loop as it is heard while it turns: `before` frames of the turn before the first frame, the turn
 * itself, and `after` frames of the next. What has a memory, such as a filter, is given these so that
 * the seam stays as it was.
 */
export function turning(source: SampleSource, before: number, after: number): SampleSource {
  const { frames } = source
  if (frames === 0) return source
  const length = before + frames + after
  return {
    channels: source.channels,
    frames: length,
    sampleRateHz: source.sampleRateHz,
    read: (from, count, into) => {
      for (const samples of into) samples.fill(0, 0, count)
      let done = Math.max(0, -from)
      const end = Math.min(count, length - from)
      while (done < end) {
        const at = (((from + done - before) % frames) + frames) % frames
        const some = Math.min(end - done, frames - at)
        source.read(
          at,
          some,
          into.map((samples) => samples.subarray(done, done + some)),
        )
        done += some
      }
    },
  }
}
