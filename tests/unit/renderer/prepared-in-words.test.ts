import { describe, expect, test } from 'vitest'
import type { PreparedSoundRow, PrepareReport } from '../../../renderer/hooks/use-preparing.ts'
import {
  changeRows,
  choicesOfSound,
  countsInWords,
  heardInWords,
  loudnessInWords,
  nameOfChoice,
  scopeInWords,
  spreadInWords,
  wordInWords,
  type KeptChoice,
} from '../../../renderer/views/prepare/prepared-in-words.ts'

const choice = (change: Partial<KeptChoice>): KeptChoice => ({
  editionId: 'edition',
  step: 'gain',
  value: null,
  role: null,
  path: null,
  ...change,
})

describe('words on steps', () => {
  test.each([
    { kept: choice({}), scope: 'the whole font', word: 'Gain left out' },
    { kept: choice({ value: -3, role: 'clash' }), scope: 'all clash sounds', word: 'Gain set to −3 dB' },
    {
      kept: choice({ step: 'high-pass', value: 150, path: 'hum.wav' }),
      scope: 'hum.wav',
      word: 'High-pass set to 150 Hz',
    },
  ])('$word for $scope', ({ kept, scope, word }) => {
    expect(scopeInWords(kept)).toBe(scope)
    expect(wordInWords(kept)).toBe(word)
  })

  test('of several on one step, the narrowest concerns a sound', () => {
    const font = choice({ value: 1 })
    const role = choice({ value: 2, role: 'clash' })
    const own = choice({ value: 3, path: 'clash-01.wav' })
    const trim = choice({ step: 'trim' })
    const all = [own, font, trim, role]
    expect(choicesOfSound(all, { path: 'clash-01.wav', role: 'clash' })).toEqual([own, trim])
    expect(choicesOfSound(all, { path: 'clash-02.wav', role: 'clash' })).toEqual([role, trim])
    expect(choicesOfSound(all, { path: 'hum.wav', role: 'hum' })).toEqual([font, trim])
    expect(choicesOfSound(all, { path: 'x.wav', role: null })).toEqual([font, trim])
  })

  test('a request names them without what they say', () => {
    expect(nameOfChoice(choice({ value: 3 }))).toEqual({ step: 'gain' })
    expect(nameOfChoice(choice({ role: 'hum', value: 3 }))).toEqual({ step: 'gain', role: 'hum' })
    expect(nameOfChoice(choice({ path: 'a.wav' }))).toEqual({ step: 'gain', path: 'a.wav' })
  })
})

describe('before and after', () => {
  const before: PreparedSoundRow['before'] = {
    sha256: 'a',
    sizeBytes: 2048,
    sampleRateHz: 44_100,
    bitDepth: 24,
    channels: 2,
    seconds: 1.5,
    levelLufs: -20.04,
    truePeakDbtp: -1,
    dcOffset: -0.0001,
    jumpRatio: 4.26,
    dipDb: null,
  }
  const after = { ...before, sampleRateHz: 32_000, levelLufs: -18, dcOffset: 0, jumpRatio: 0.4, dipDb: -1.25 }
  const foreseen = {
    sizeBytes: 1024,
    sampleRateHz: 32_000,
    bitDepth: 16,
    channels: 1,
    seconds: 1.5,
    levelLufs: null,
  }
  const row = (rows: ReturnType<typeof changeRows>, name: string) => rows.find((each) => each.name === name)

  test('a made sound is told value by value, a loop with its seam', () => {
    const rows = changeRows({ before, after, foreseen: null, isLoop: true, steps: [] })
    expect(row(rows, 'Level, no speaker')).toMatchObject({ before: '−20.0', after: '−18.0', unit: 'LUFS' })
    expect(row(rows, 'Level')).toBeUndefined()
    expect(row(rows, 'Rate')).toMatchObject({ before: '44100', after: '32000' })
    expect(row(rows, 'Seam jump')).toMatchObject({ before: '4.3', after: '0.4' })
    expect(row(rows, 'Seam dip')).toMatchObject({ before: '–', after: '−1.3' })
    expect(row(rows, 'DC')).toBeUndefined()
  })

  test('what a dry run foresees comes without what only measuring tells', () => {
    const steps = [
      { step: 'remove-dc', rule: 'dc-offset', reason: '', numbers: {}, inWords: 'DC removed' },
    ] as const
    const rows = changeRows({ before, after: null, foreseen, isLoop: false, steps: [...steps] })
    expect(row(rows, 'Depth')).toMatchObject({ before: '24', after: '16' })
    expect(row(rows, 'Size')).toMatchObject({ before: '2 KiB', after: '1 KiB' })
    expect(row(rows, 'Level')).toMatchObject({ after: '–' })
    expect(row(rows, 'True peak')).toMatchObject({ before: '−1.0', after: null })
    expect(row(rows, 'DC')).toEqual({ name: 'DC', before: '−0.01', after: null, unit: '% of full scale' })
    expect(row(rows, 'Seam jump')).toBeUndefined()
  })

  test('a sound that needs nothing has nothing after', () => {
    const rows = changeRows({ before, after: null, foreseen: null, isLoop: true, steps: [] })
    expect(rows.map((each) => each.after)).toEqual(rows.map(() => null))
  })
})

describe('loudness', () => {
  test.each([
    { matched: null, words: /^Not brought to one loudness/ },
    {
      matched: { originalGainDb: 0, preparedGainDb: -14.44 },
      words: /B is turned down by 14\.4 dB, A is as it is/,
    },
    {
      matched: { originalGainDb: -3, preparedGainDb: 0 },
      words: /A is turned down by 3\.0 dB, B is as it is/,
    },
    { matched: { originalGainDb: -0.01, preparedGainDb: 0 }, words: /^Equally loud as they are\.$/ },
  ])('$words', ({ matched, words }) => {
    expect(loudnessInWords(matched)).toMatch(words)
  })

  const report = {
    spreadBeforeLu: 12.34,
    spreadAfterLu: 0.51,
    allowedSpreadLu: 1,
    dryRun: false,
    speakerLowLimitHz: null,
    counts: { unchanged: 1, made: 2, kept: 0, planned: 0, failed: 0 },
  } as PrepareReport

  test('how far hums lie apart is told for what was made, and for what would be', () => {
    expect(spreadInWords(report)).toBe('Hums differ by 12.3 LU, and now by 0.5 LU. The board allows 1 LU.')
    expect(spreadInWords({ ...report, dryRun: true, allowedSpreadLu: null })).toBe(
      'Hums differ by 12.3 LU, and would then differ by 0.5 LU.',
    )
    expect(spreadInWords({ ...report, spreadAfterLu: null })).toBeNull()
  })

  test('through what they were heard, and how many sounds it was about', () => {
    expect(heardInWords(report)).toContain('without a speaker')
    expect(heardInWords({ speakerLowLimitHz: 180 })).toContain('from 180 Hz')
    expect(countsInWords(report)).toBe('Sounds: 2 made, 1 left as it is.')
    expect(countsInWords({ counts: { unchanged: 0, made: 0, kept: 0, planned: 0, failed: 0 } })).toBe(
      'No sounds.',
    )
  })
})
