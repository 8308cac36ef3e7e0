import { expect, test } from 'vitest'
import { throughSpeaker } from '../../../../app/audio/measure/through-speaker.ts'
import { bytesSource } from '../../../../main/workers/file-byte-source.ts'
import { openKernel } from '../../../../main/workers/open-kernel.ts'
import { measured } from '../../../support/inspected.ts'
import { sine } from '../../../support/signals.ts'
import { wavFile } from '../../../support/wav-bytes.ts'

const kernel = openKernel()
const through = (bytes: Uint8Array, limitHz: number) =>
  throughSpeaker(bytesSource(bytes), limitHz, kernel, () => {})
const integrated = (bytes: Uint8Array, limitHz: number) => through(bytes, limitHz)?.integratedLufs ?? 0
const tone = (hz: number, channels = 1) =>
  wavFile(Array.from({ length: channels }, () => sine(48000, hz, 96000, 0.25)))

// A second-order Butterworth high-pass takes 10 log10(1 + (limit/f)^4) dB from a tone; the bilinear
// transform warps frequencies by less than 0.1 dB here.
test.each([
  { hz: 100, limitHz: 300 },
  { hz: 150, limitHz: 300 },
  { hz: 300, limitHz: 300 },
  { hz: 600, limitHz: 300 },
  { hz: 2000, limitHz: 300 },
  { hz: 90, limitHz: 150 },
])(
  'a tone of $hz Hz through a speaker from $limitHz Hz on loses what Butterworth says',
  ({ hz, limitHz }) => {
    const whole = measured(tone(hz)).levels.integratedLufs ?? 0
    const loss = 10 * Math.log10(1 + (limitHz / hz) ** 4)
    expect(Math.abs(integrated(tone(hz), limitHz) - (whole - loss))).toBeLessThan(0.1)
  },
)

test('two channels are measured like two', () => {
  expect(integrated(tone(1000, 2), 200) - integrated(tone(1000), 200)).toBeCloseTo(3.01, 1)
})

test('a sound without samples has no loudness, nor has one whose rate ends below the limit', () => {
  const none = { integratedLufs: null, momentaryMaxLufs: null }
  expect(through(wavFile([[]]), 200)).toEqual(none)
  expect(through(wavFile([sine(8000, 500, 8000, 0.5)], { rateHz: 8000 }), 4000)).toEqual(none)
})

test('what is no WAV must be decoded first', () => expect(through(new Uint8Array(20), 200)).toBeNull())
