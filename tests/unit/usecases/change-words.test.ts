import { expect, test } from 'vitest'
import { changeWords } from '../../../app/usecases/prepare/step-words.ts'

type Row = Parameters<typeof changeWords>[0]

const before: Row['before'] = {
  ...{ sha256: 'a', sizeBytes: 44, sampleRateHz: 48_000, bitDepth: 24, channels: 2, seconds: 1.5 },
  ...{ levelLufs: -30.04, truePeakDbtp: -3, dcOffset: 0.1, jumpRatio: 9, dipDb: -4 },
}
const row: Row = {
  ...{ soundId: 's', path: 'hum.wav', role: 'hum', isLoop: true, state: 'made', wrong: [], told: [] },
  ...{ steps: [], problem: null, before, after: null, foreseen: null, matchedLoudness: null },
}

test('what was made is told by its measures, and only where they differ', () => {
  const after = { ...before, sampleRateHz: 44_100, levelLufs: -22, truePeakDbtp: -1, jumpRatio: 0.04 }
  expect(changeWords({ ...row, after })).toEqual([
    '48000 → 44100 Hz',
    '-30.0 → -22.0 LUFS',
    '-3.0 → -1.0 dBTP',
    '9.0 → 0.0 seam jump',
  ])
  expect(changeWords({ ...row, after: { ...after, jumpRatio: 9 }, isLoop: false })).toHaveLength(3)
})

test('what would be made is told as far as its steps tell', () => {
  const foreseen = {
    sizeBytes: 40,
    sampleRateHz: 44_100,
    bitDepth: 16,
    channels: 1,
    seconds: 1.5,
    levelLufs: -22,
  }
  expect(changeWords({ ...row, foreseen })).toEqual([
    '48000 → 44100 Hz',
    '24 → 16 bit',
    '2 → 1 channels',
    '-30.0 → -22.0 LUFS',
  ])
  expect(changeWords({ ...row, foreseen: { ...foreseen, levelLufs: null } })).not.toContain(
    expect.stringMatching(/LUFS/),
  )
  expect(changeWords(row)).toEqual([])
})
