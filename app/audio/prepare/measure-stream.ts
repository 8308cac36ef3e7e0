import type { CancelCheck } from '../../ports/bytes.ts'
import { ENVELOPE_FRAMES, type Kernel } from '../../ports/kernel.ts'
import type { SoundAnswer } from '../../model/preparation.ts'
import { amplitudeDb } from '../measure/decibels.ts'
import { LoudnessMeter } from '../measure/loudness-meter.ts'
import { cannotMeasure, framesTo400Ms, hasLoudness, kernelSetup } from '../measure/measuring.ts'
import { bareFloats } from './decoded-source.ts'
import { newSamples, type SampleStream } from './sample-source.ts'

/** Frames at a time; a multiple of the kernel's bins that fits its input eight bytes a sample. */
const FRAMES_AT_ONCE = 8 * ENVELOPE_FRAMES

/**
 * Loudness and true peak of samples on their way, by the measuring kernel itself: they read as the
 * file will, once it is written.
 * @returns null where nothing can be measured (too many channels, no frame)
 * @throws Cancelled
 */
export function measureStream(
  stream: SampleStream,
  frames: number,
  kernel: Kernel,
  cancel: CancelCheck,
): SoundAnswer['levels'] {
  const layout = bareFloats(frames, stream.channels, stream.sampleRateHz)
  if (cannotMeasure(layout) !== undefined) return null
  const meter = new LoudnessMeter(stream.sampleRateHz)
  const room = newSamples(stream.channels, FRAMES_AT_ONCE)
  const input = new DataView(kernel.input.buffer, kernel.input.byteOffset, kernel.input.byteLength)
  kernel.begin({ ...kernelSetup(layout), encoding: 'f64' })
  for (let from = 0; from < frames; from += FRAMES_AT_ONCE) {
    cancel()
    const some = Math.min(FRAMES_AT_ONCE, frames - from)
    stream.next(some, room)
    room.forEach((samples, channel) => {
      for (let frame = 0; frame < some; frame++) {
        input.setFloat64((frame * stream.channels + channel) * 8, samples[frame] ?? 0, true)
      }
    })
    meter.add(kernel.feed(0, some).hopLoudness)
  }
  const totals = kernel.finish(framesTo400Ms(layout))
  const { integratedLufs, momentaryMaxLufs } = meter.readings(totals.tailLoudness)
  const isLoudnessRate = hasLoudness(stream.sampleRateHz)
  return {
    integratedLufs: isLoudnessRate ? integratedLufs : null,
    momentaryMaxLufs: isLoudnessRate ? momentaryMaxLufs : null,
    truePeakDbtp: amplitudeDb(Math.max(totals.truePeak, totals.samplePeak)),
  }
}
