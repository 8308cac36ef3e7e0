import { ONSET_SHARE, SILENCE_BELOW } from '../measure/loud-bins.ts'
import type { SoundEnds } from '../../model/preparation.ts'
import { eachBlock, type SampleSource } from './sample-source.ts'

/**
 * Where a sound begins to be heard, and how long it is silent behind, by the limits that a file is
 * measured by.
 */
export function soundEnds(source: SampleSource): SoundEnds {
  const ms = (frames: number) => (frames / source.sampleRateHz) * 1000
  let peak = 0
  let last = -1
  eachSize(source, (size, frame) => {
    if (size > peak) peak = size
    if (size >= SILENCE_BELOW) last = frame
  })
  let first = -1
  eachSize(source, (size, frame) => {
    if (first < 0 && size > peak * ONSET_SHARE) first = frame
  })
  return { onsetMs: first < 0 ? null : ms(first), trailingSilenceMs: ms(source.frames - 1 - last) }
}

/** The largest of all channels, frame by frame. */
function eachSize(source: SampleSource, visit: (size: number, frame: number) => void): void {
  eachBlock(source, (block, from) => {
    const frames = block[0]?.length ?? 0
    for (let frame = 0; frame < frames; frame++) {
      let size = 0
      for (const samples of block) size = Math.max(size, Math.abs(samples[frame] ?? 0))
      visit(size, from + frame)
    }
  })
}
