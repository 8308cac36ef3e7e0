import { describe, expect, test } from 'vitest'
import { measured } from '../../../support/inspected.ts'
import { tones, type Stretch } from '../../../support/signals.ts'
import { wavFile } from '../../../support/wav-bytes.ts'

// EBU Tech 3342 (2023), table 1, signals 1 to 4, tolerance 1 LU; 5 and 6 are programme material.
const CASES = [
  { number: 1, levels: [-20, -30], want: 10 },
  { number: 2, levels: [-20, -15], want: 5 },
  { number: 3, levels: [-40, -20], want: 20 },
  { number: 4, levels: [-50, -35, -20, -35, -50], want: 15 },
]
const FORMS = [
  { name: '48 kHz, two channels', rateHz: 48000, channels: 2 },
  { name: '44.1 kHz, one channel', rateHz: 44100, channels: 1 },
  { name: '22.05 kHz, one channel', rateHz: 22050, channels: 1 },
]

describe.each(FORMS)('loudness range by EBU Tech 3342 at $name', ({ rateHz, channels }) => {
  test.each(CASES)('signal $number has a range of $want LU', ({ levels, want }) => {
    const tone = tones(
      rateHz,
      levels.map((db): Stretch => [20, db]),
    )
    const { rangeLu } = measured(
      wavFile(
        Array.from({ length: channels }, () => tone),
        { rateHz, bits: 24 },
      ),
    ).levels
    expect(Math.abs((rangeLu ?? Infinity) - want)).toBeLessThanOrEqual(1)
  })
})
