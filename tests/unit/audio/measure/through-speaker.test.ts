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
    expect(Math.abs((through(tone(hz), limitHz).integratedLufs ?? 0) - (whole - loss))).toBeLessThan(0.1)
  },
)

test('two channels are measured like two', () => {
  const one = through(tone(1000), 200).integratedLufs ?? 0
  expect((through(tone(1000, 2), 200).integratedLufs ?? 0) - one).toBeCloseTo(3.01, 1)
})

test('a sound without samples, or none at all, gives no readings', () => {
  const none = { integratedLufs: null, momentaryMaxLufs: null }
  expect(through(wavFile([[]]), 200)).toEqual(none)
  expect(through(new Uint8Array(20), 200)).toEqual(none)
})
