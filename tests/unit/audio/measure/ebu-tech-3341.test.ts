import { describe, expect, test } from 'vitest'
import type { Levels } from '../../../../app/model/measures.ts'
import { measured } from '../../../support/inspected.ts'
import { tones, type Stretch } from '../../../support/signals.ts'
import { wavFile } from '../../../support/wav-bytes.ts'

// EBU Tech 3341 (v4, November 2023), table 1: the minimum-requirement signals that can be synthesised,
// with the values and tolerances published there. At 48 kHz in 24 bits and two channels as asked for;
// at 44.1 and 22.05 kHz in 16 bits and one channel, 3.01 dB louder for the same reading.
const TOLERANCE_LU = 0.1
const FORMS = [
  { name: '48 kHz', rateHz: 48000, bits: 24, channels: 2, lift: 0 },
  { name: '44.1 kHz', rateHz: 44100, bits: 16, channels: 1, lift: 10 * Math.log10(2) },
  { name: '22.05 kHz', rateHz: 22050, bits: 16, channels: 1, lift: 10 * Math.log10(2) },
] as const

interface Case {
  readonly number: string
  readonly stretches: readonly Stretch[]
  readonly want: Partial<Levels>
}

const repeated = (count: number, ...stretches: Stretch[]) =>
  Array.from({ length: count }, () => stretches).flat()
const CASES: readonly Case[] = [
  {
    number: '1',
    stretches: [[20, -23]],
    want: { integratedLufs: -23, momentaryMaxLufs: -23, shortTermMaxLufs: -23 },
  },
  {
    number: '2',
    stretches: [[20, -33]],
    want: { integratedLufs: -33, momentaryMaxLufs: -33, shortTermMaxLufs: -33 },
  },
  {
    number: '3',
    stretches: [
      [10, -36],
      [60, -23],
      [10, -36],
    ],
    want: { integratedLufs: -23 },
  },
  {
    number: '4',
    stretches: [
      [10, -72],
      [10, -36],
      [60, -23],
      [10, -36],
      [10, -72],
    ],
    want: { integratedLufs: -23 },
  },
  {
    number: '5',
    stretches: [
      [20, -26],
      [20.1, -20],
      [20, -26],
    ],
    want: { integratedLufs: -23 },
  },
  { number: '9', stretches: repeated(5, [1.34, -20], [1.66, -30]), want: { shortTermMaxLufs: -23 } },
  ...Array.from({ length: 20 }, (_, i): Case => ({
    number: `10, file ${i + 1}`,
    stretches: [
      [i * 0.15, null],
      [3, -23],
      [1, null],
    ],
    want: { shortTermMaxLufs: -23 },
  })),
  {
    number: '11, by its overall maximum',
    stretches: Array.from({ length: 20 }, (_, i): Stretch[] => [
      [i * 0.15, null],
      [3, -38 + i],
      [3 - i * 0.15, null],
    ]).flat(),
    want: { shortTermMaxLufs: -19 },
  },
  { number: '12', stretches: repeated(25, [0.18, -20], [0.22, -30]), want: { momentaryMaxLufs: -23 } },
  ...Array.from({ length: 20 }, (_, i): Case => ({
    number: `13, file ${i + 1}`,
    stretches: [
      [i * 0.02, null],
      [0.4, -23],
      [1, null],
    ],
    want: { momentaryMaxLufs: -23 },
  })),
  {
    number: '14, by its overall maximum',
    stretches: Array.from({ length: 20 }, (_, i): Stretch[] => [
      [i * 0.02, null],
      [0.4, -38 + i],
      [0.4 - i * 0.02, null],
    ]).flat(),
    want: { momentaryMaxLufs: -19 },
  },
]

describe.each(FORMS)('EBU Tech 3341 at $name', ({ rateHz, bits, channels, lift }) => {
  test.each(CASES)('case $number', ({ stretches, want }) => {
    const lifted = stretches.map(([seconds, db]): Stretch => [seconds, db === null ? null : db + lift])
    const tone = tones(rateHz, lifted)
    const { levels } = measured(
      wavFile(
        Array.from({ length: channels }, () => tone),
        { rateHz, bits },
      ),
    )
    for (const [key, value] of Object.entries(want)) {
      expect(Math.abs((levels[key as keyof Levels] ?? Infinity) - (value ?? 0)), key).toBeLessThanOrEqual(
        TOLERANCE_LU,
      )
    }
  })
})

describe('EBU Tech 3341 case 6: five channels', () => {
  const part = (db: number) => tones(48000, [[20, db]])
  const [left, centre, surround] = [part(-28), part(-24), part(-30)]
  const silent = new Float64Array(left.length)
  const cases = [
    {
      name: 'L R C Ls Rs in a plain format',
      channels: [left, left, centre, surround, surround],
      channelMask: undefined,
    },
    {
      name: 'the same with their speakers named',
      channels: [left, left, centre, surround, surround],
      channelMask: 0x37,
    },
    {
      name: 'with a silent low-frequency channel',
      channels: [left, left, centre, silent, surround, surround],
      channelMask: 0x3f,
    },
    {
      name: 'with a loud low-frequency channel, which counts for nothing',
      channels: [left, left, centre, part(-10), surround, surround],
      channelMask: 0x3f,
    },
  ]
  test.each(cases)('$name', ({ channels, channelMask }) => {
    const file = wavFile(channels, { bits: 24, ...(channelMask === undefined ? {} : { channelMask }) })
    expect(measured(file).levels.integratedLufs).toBeCloseTo(-23, 1)
  })
})

describe.each(FORMS)(
  'EBU Tech 3341 true peak at $name, within +0.2 and -0.4 dB',
  ({ rateHz, bits, channels }) => {
    const expectPeak = (samples: Float64Array, want: number) => {
      const { truePeakDbtp } = measured(
        wavFile(
          Array.from({ length: channels }, () => samples),
          { rateHz, bits },
        ),
      ).levels
      expect(truePeakDbtp).toBeLessThanOrEqual(want + 0.2)
      expect(truePeakDbtp).toBeGreaterThanOrEqual(want - 0.4)
    }
    const tonesOfCase = [
      { number: 15, divisor: 4, gain: 0.5, degrees: 0, want: -6 },
      { number: 16, divisor: 4, gain: 0.5, degrees: 45, want: -6 },
      { number: 17, divisor: 6, gain: 0.5, degrees: 60, want: -6 },
      { number: 18, divisor: 8, gain: 0.5, degrees: 67.5, want: -6 },
      { number: 19, divisor: 4, gain: 1.41, degrees: 45, want: 3 },
    ]
    test.each(tonesOfCase)('case $number', ({ divisor, gain, degrees, want }) => {
      const frames = Math.floor(3.2 * rateHz)
      const fade = Math.round(0.01 * rateHz)
      const samples = Float64Array.from({ length: frames }, (_, index) => {
        const edge = Math.min(1, index / fade, (frames - 1 - index) / fade)
        return edge * gain * Math.sin((2 * Math.PI * index) / divisor + (degrees * Math.PI) / 180)
      })
      expectPeak(samples, want)
    })

    test.each([20, 21, 22, 23])('case %i: one cycle of full scale between samples', (number) => {
      expectPeak(burst(rateHz, number - 20), 0)
    })
  },
)

/**
 * Cases 20 to 23: at four times the rate a quiet tone with one louder, faster cycle, low-passed at
 * half the rate and taken down to it, starting at each of the four samples.
 */
function burst(rateHz: number, offset: number): Float64Array {
  const quiet = 24 * Math.floor((4 * rateHz) / 24 / 8)
  const sample = (index: number) => {
    if (index < 0 || index >= 2 * quiet + 16) return 0
    if (index >= quiet && index < quiet + 16) return Math.sin((2 * Math.PI * (index - quiet)) / 16)
    const place = index < quiet ? index : index - quiet - 16
    return 0.5 * Math.sin((2 * Math.PI * place) / 24)
  }
  const half = 256
  const fine = Float64Array.from({ length: 2 * quiet + 16 + 2 * half + 4 }, (_, index) =>
    sample(index - half),
  )
  const taps = Float64Array.from({ length: 2 * half + 1 }, (_, index) => {
    const x = (index - half) / 4
    const window = 0.5 + 0.5 * Math.cos((Math.PI * (index - half)) / (half + 1))
    return (x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x)) * window
  })
  const sum = taps.reduce((total, tap) => total + tap, 0)
  const frames = Math.floor((2 * quiet + 16 - offset) / 4)
  const fade = Math.round(rateHz / 100)
  return Float64Array.from({ length: frames }, (_, frame) => {
    let value = 0
    for (let tap = 0; tap < taps.length; tap++)
      value += (taps[tap] ?? 0) * (fine[frame * 4 + offset + tap] ?? 0)
    return (value / sum) * Math.min(1, frame / fade, (frames - 1 - frame) / fade)
  })
}

test('the alignment tone, 1 kHz in both channels at -18 dBFS, reads -18.0 LUFS (section 2.9)', () => {
  const tone = tones(48000, [[10, -18]])
  expect(measured(wavFile([tone, tone], { bits: 24 })).levels.integratedLufs).toBeCloseTo(-18, 1)
})
