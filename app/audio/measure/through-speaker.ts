import type { ByteSource, CancelCheck } from '../../ports/bytes.ts'
import { ENVELOPE_FRAMES, type Kernel } from '../../ports/kernel.ts'
import type { LevelReadings } from '../level-of.ts'
import { openWav } from '../wav/open-wav.ts'
import type { SampleLayout } from '../wav/sample-layout.ts'
import { LoudnessMeter } from './loudness-meter.ts'
import { cannotMeasure, framesTo400Ms, hasLoudness, kernelSetup } from './measuring.ts'
import { SampleLook } from './sample-look.ts'
import { SpeakerCut } from './speaker-cut.ts'

/** A multiple of the envelope's bins that one look holds. */
const FRAMES_AT_ONCE = 8 * ENVELOPE_FRAMES

/**
 * Loudness of a sound as a speaker gives it that plays nothing below `limitHz`: the same readings
 * after a second-order Butterworth high-pass. Two hums that measure equal can differ by ear where
 * one lives below what the speaker gives.
 * @param limitHz the speaker's low limit, above 0 and below half the sample rate
 * @returns null readings where the sound has no loudness, null where it must be decoded first
 * @throws Cancelled, and what the source throws
 */
export function throughSpeaker(
  source: ByteSource,
  limitHz: number,
  kernel: Kernel,
  cancel: CancelCheck,
): LevelReadings | null {
  const none = { integratedLufs: null, momentaryMaxLufs: null }
  const head = new Uint8Array(4096)
  const layout = openWav(source, head.subarray(0, source.readInto(head, 0)))?.layout
  if (layout === undefined) return null
  if (cannotMeasure(layout) !== undefined || !hasLoudness(layout.sampleRateHz)) return none
  // Nothing is left above half the rate.
  if (limitHz * 2 >= layout.sampleRateHz) return none
  return measureCut(source, layout, limitHz, kernel, cancel)
}

function measureCut(
  source: ByteSource,
  layout: SampleLayout,
  limitHz: number,
  kernel: Kernel,
  cancel: CancelCheck,
): LevelReadings {
  const { frames, channels, sampleRateHz } = layout
  const look = new SampleLook(source, layout)
  const meter = new LoudnessMeter(sampleRateHz)
  const cuts = Array.from({ length: channels }, () => new SpeakerCut(limitHz, sampleRateHz))
  const input = new DataView(kernel.input.buffer, kernel.input.byteOffset, kernel.input.byteLength)
  kernel.begin({ ...kernelSetup(layout), encoding: 'f64' })
  for (let from = 0; from < frames; from += FRAMES_AT_ONCE) {
    cancel()
    const samples = look.samples(from, FRAMES_AT_ONCE)
    for (let index = 0; index < samples.length; index++) {
      input.setFloat64(index * 8, cuts[index % channels]?.next(samples[index] ?? 0) ?? 0, true)
    }
    meter.add(kernel.feed(0, samples.length / channels).hopLoudness)
  }
  const { tailLoudness } = kernel.finish(framesTo400Ms(layout))
  const { integratedLufs, momentaryMaxLufs } = meter.readings(tailLoudness)
  return { integratedLufs, momentaryMaxLufs }
}
