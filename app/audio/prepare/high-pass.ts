import { SpeakerCut } from '../measure/speaker-cut.ts'
import type { SampleStream } from './sample-source.ts'

/** Takes out what a speaker cannot give: a second-order Butterworth high-pass at its low limit. */
export function highPassed(stream: SampleStream, frequencyHz: number): SampleStream {
  const cuts = Array.from({ length: stream.channels }, () => new SpeakerCut(frequencyHz, stream.sampleRateHz))
  return {
    ...stream,
    next: (frames, into) => {
      stream.next(frames, into)
      into.forEach((samples, channel) => {
        const cut = cuts[channel]
        if (cut === undefined) return
        for (let frame = 0; frame < frames; frame++) samples[frame] = cut.next(samples[frame] ?? 0)
      })
    },
  }
}

/** Time in which such a filter forgets what was before: it falls by 120 dB. */
export function settlingSeconds(frequencyHz: number): number {
  return (6 * Math.LN10) / (2 * Math.PI * frequencyHz * Math.SQRT1_2)
}
