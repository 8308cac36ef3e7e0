import { describe, expect, test } from 'vitest'
import type { Board } from '../../../../app/model/board.ts'
import { boardLikeBench44, shippedBoard } from '../../../support/shipped-boards.ts'
import { fontLike, foundBy, judged, type SoundChange } from '../../../support/judged-font.ts'

interface Case {
  readonly rule: string
  readonly when: string
  readonly path?: string
  readonly sound: SoundChange
  readonly board?: Board
  readonly speakerLowLimitHz?: number
  readonly throughSpeakerLufs?: number
  /** What the finding says; null where the rule stays quiet. */
  readonly says: string | null
}

const chunk = (id: string, offset: number, sizeBytes = 20) => ({ id, offset, sizeBytes })
const format = chunk('fmt ', 12, 16)
const defect = (code: string) => ({ code, offset: 40, message: `What ${code} means.` })
const pair = (seconds: number): SoundChange => ({ facts: { seconds, frames: Math.round(seconds * 44_100) } })

const CASES: readonly Case[] = [
  {
    rule: 'unreadable',
    when: 'nothing could be read of it',
    sound: { facts: null, problem: { code: 'wav/none', message: 'The file is no WAV.' } },
    says: 'The file is no WAV.',
  },
  {
    rule: 'unreadable',
    when: 'it has no format',
    sound: { facts: { channels: null } },
    says: 'The file has no sound that can be read.',
  },
  { rule: 'unreadable', when: 'it is a sound', sound: {}, says: null },
  {
    rule: 'container',
    when: 'it is big-endian',
    sound: { facts: { container: 'rifx' } },
    says: 'The container is rifx; the board takes riff.',
  },
  { rule: 'container', when: 'it is RIFF', sound: {}, says: null },
  {
    rule: 'container',
    when: 'a tag stands before it',
    sound: { facts: { defects: [{ code: 'tag-before-header', offset: 0, message: 'A tag is first.' }] } },
    says: 'A tag is first.',
  },
  {
    rule: 'defects',
    when: 'a tag stands before it, which the rule for containers tells',
    sound: { facts: { defects: [{ code: 'tag-before-header', offset: 0, message: 'A tag is first.' }] } },
    says: null,
  },
  {
    rule: 'defects',
    when: 'a tag stands before it and nobody knows which containers the board takes',
    sound: { facts: { defects: [{ code: 'tag-before-header', offset: 0, message: 'A tag is first.' }] } },
    board: boardLikeBench44('audio: { containers: null }\n'),
    says: 'A tag is first.',
  },
  {
    rule: 'coding',
    when: 'it is A-law',
    sound: { facts: { coding: 'alaw' } },
    says: 'The coding is alaw; the board takes pcm.',
  },
  {
    rule: 'coding',
    when: 'it is something unknown',
    sound: { facts: { coding: 'other', formatTag: 0x55 } },
    says: 'The coding is unknown (format tag 0x0055); the board takes pcm.',
  },
  { rule: 'coding', when: 'it is PCM', sound: {}, says: null },
  {
    rule: 'sample-rate',
    when: 'it has 48 kHz',
    sound: { facts: { sampleRateHz: 48_000 } },
    says: 'The sample rate is 48000 Hz; the board plays 44100 Hz.',
  },
  { rule: 'sample-rate', when: 'it has 44.1 kHz', sound: {}, says: null },
  {
    rule: 'sample-rate',
    when: 'nobody knows which rates the board plays',
    sound: { facts: { sampleRateHz: 48_000 } },
    board: boardLikeBench44('known: { audio.sampleRatesHz: unknown }\n'),
    says: null,
  },
  {
    rule: 'one-rate',
    when: 'it alone has another rate that the board plays',
    sound: { facts: { sampleRateHz: 48_000 } },
    board: boardLikeBench44('audio: { sampleRatesHz: [44100, 48000] }\n'),
    says: 'The sample rate is 48000 Hz, and most sounds of this font have 44100 Hz.',
  },
  {
    rule: 'one-rate',
    when: 'its rate is not played at all, which is told already',
    sound: { facts: { sampleRateHz: 22_050 } },
    board: boardLikeBench44('audio: { sampleRatesHz: [44100, 48000] }\n'),
    says: null,
  },
  {
    rule: 'bit-depth',
    when: 'it has 24 bit',
    sound: { facts: { bitDepth: 24 } },
    says: 'Samples have 24 bit; the board plays 16 bit.',
  },
  {
    rule: 'bit-depth',
    when: 'its 4 bits are a packed coding',
    sound: { facts: { bitDepth: 4, coding: 'adpcm' } },
    says: null,
  },
  {
    rule: 'bit-depth',
    when: 'the board plays both',
    sound: { facts: { bitDepth: 24 } },
    board: boardLikeBench44('audio: { bitDepths: [16, 24] }\n'),
    says: null,
  },
  {
    rule: 'channels',
    when: 'it is stereo',
    sound: { facts: { channels: 2 } },
    says: 'It has 2 channels (stereo); the board plays 1.',
  },
  { rule: 'channels', when: 'it is mono', sound: {}, says: null },
  {
    rule: 'plain-header',
    when: 'a chunk stands before its samples',
    sound: { facts: { chunks: [format, chunk('note', 36), chunk('data', 64)] } },
    says: 'The file holds "note" besides the format and the samples; its samples start at byte 72, and the board wants them at byte 44.',
  },
  {
    rule: 'plain-header',
    when: 'a chunk stands behind its samples',
    sound: { facts: { chunks: [format, chunk('data', 36), chunk('note', 2000)] } },
    says: 'The file holds "note" behind its samples (28 bytes); the board wants nothing but the format and the samples.',
  },
  {
    rule: 'plain-header',
    when: 'its format description is a long one',
    sound: { facts: { chunks: [chunk('fmt ', 12, 40), chunk('data', 60)] } },
    says: 'The file holds a format description of 40 bytes; its samples start at byte 68, and the board wants them at byte 44.',
  },
  {
    rule: 'plain-header',
    when: 'the board takes any header',
    sound: { facts: { chunks: [format, chunk('note', 36), chunk('data', 64)] } },
    board: boardLikeBench44('audio: { header: any }\n'),
    says: null,
  },
  { rule: 'plain-header', when: 'it is plain', sound: {}, says: null },
  {
    rule: 'truncated',
    when: 'bytes are missing at its end',
    sound: { facts: { defects: [defect('chunk-past-end'), defect('riff-size-long')] } },
    says: 'The file is cut off: What chunk-past-end means.',
  },
  {
    rule: 'truncated',
    when: 'only a pad byte is missing',
    sound: { facts: { defects: [defect('pad-missing')] } },
    says: null,
  },
  {
    rule: 'defects',
    when: 'two things are wrong with its structure',
    sound: { facts: { defects: [defect('pad-missing'), defect('wrong-byte-rate')] } },
    says: 'What pad-missing means. And 1 more.',
  },
  {
    rule: 'defects',
    when: 'it is cut off, and so its sizes are wrong too',
    sound: { facts: { defects: [defect('chunk-past-end'), defect('riff-size-long')] } },
    says: null,
  },
  {
    rule: 'empty',
    when: 'it has a header and no samples',
    sound: { facts: { frames: 0, seconds: 0 }, sizeBytes: 44 },
    says: 'The file has 44 bytes and not one sample.',
  },
  { rule: 'empty', when: 'it has one sample', sound: { facts: { frames: 1 } }, says: null },
  {
    rule: 'too-long',
    when: 'it lasts ten minutes and a bit',
    sound: { facts: { seconds: 600.25 } },
    says: 'It lasts 600.25 s; the most that was seen playing is 600 s.',
  },
  { rule: 'too-long', when: 'it lasts just ten minutes', sound: { facts: { seconds: 600 } }, says: null },
  {
    rule: 'too-large',
    when: 'it is larger than the board takes',
    sound: { sizeBytes: 2_000_000 },
    board: boardLikeBench44('audio: { largestBytes: 1048576 }\n'),
    says: 'The file has 1.91 MiB (2000000 bytes); the board takes at most 1 MiB.',
  },
  {
    rule: 'too-large',
    when: 'it is just as large as the board takes',
    sound: { sizeBytes: 1_048_576 },
    board: boardLikeBench44('audio: { largestBytes: 1048576 }\n'),
    says: null,
  },
  {
    rule: 'silent',
    when: 'every sample is zero',
    sound: { levels: { samplePeakDbfs: null }, measures: { reasons: { samplePeakDbfs: 'silent' } } },
    says: 'Every sample is zero: it is silence.',
  },
  {
    rule: 'silent',
    when: 'it is too soft to be heard',
    sound: { levels: { samplePeakDbfs: -72.3 } },
    says: 'Its highest sample is -72.3 dBFS, and below -60 dBFS nothing is heard.',
  },
  { rule: 'silent', when: 'it is soft', sound: { levels: { samplePeakDbfs: -59 } }, says: null },
  {
    rule: 'clipped',
    when: 'it is clipped',
    sound: { measures: { clippedRuns: 12 } },
    says: 'It is clipped at 12 places: three or more samples in a row at full scale.',
  },
  { rule: 'clipped', when: 'it is not clipped', sound: {}, says: null },
  {
    rule: 'clipped',
    when: 'that could not be measured',
    sound: { measures: { clippedRuns: null } },
    says: null,
  },
  {
    rule: 'dc-offset',
    when: 'its middle is off zero',
    sound: { measures: { dcOffset: -0.034 } },
    says: 'Its middle lies -3.4 % of full scale off zero; 1 % can be heard.',
  },
  { rule: 'dc-offset', when: 'its middle is near zero', sound: { measures: { dcOffset: 0.01 } }, says: null },
  {
    rule: 'true-peak',
    when: 'it goes above the ceiling',
    sound: { levels: { truePeakDbtp: 0.34 } },
    says: "Its true peak is 0.3 dBTP; the board's ceiling is -1 dBTP.",
  },
  {
    rule: 'true-peak',
    when: 'it goes above the ceiling by less than a tenth',
    sound: { levels: { truePeakDbtp: -0.972 } },
    says: "Its true peak is -0.972 dBTP; the board's ceiling is -1 dBTP.",
  },
  {
    rule: 'true-peak',
    when: 'it just touches the ceiling',
    sound: { levels: { truePeakDbtp: -1 } },
    says: null,
  },
  {
    rule: 'level',
    when: 'the hum is too quiet',
    path: 'hum.wav',
    sound: { levels: { integratedLufs: -35.7 } },
    says: "Its level is -35.7 LUFS measured without a speaker, 11.7 LU too quiet; the board's band for hums is -24 to -20 LUFS.",
  },
  {
    rule: 'level',
    when: 'the hum is too quiet through the speaker',
    path: 'hum.wav',
    sound: { levels: { integratedLufs: -22 } },
    speakerLowLimitHz: 350,
    throughSpeakerLufs: -27.2,
    says: "Its level is -27.2 LUFS as heard through a speaker from 350 Hz, 3.2 LU too quiet; the board's band for hums is -24 to -20 LUFS.",
  },
  {
    rule: 'level',
    when: 'the hum could not be heard through the speaker',
    path: 'hum.wav',
    sound: { levels: { integratedLufs: -25 } },
    speakerLowLimitHz: 350,
    says: "Its level is -25 LUFS measured without the speaker, through which it could not be heard, 1 LU too quiet; the board's band for hums is -24 to -20 LUFS.",
  },
  {
    rule: 'level',
    when: 'a clash is too loud',
    sound: { levels: { momentaryMaxLufs: -3.8 } },
    says: "Its level is -3.8 LUFS, 8.2 LU too loud; the board's band for effects is -24 to -12 LUFS.",
  },
  {
    rule: 'level',
    when: 'it is too loud by less than a tenth',
    sound: { levels: { momentaryMaxLufs: -11.968 } },
    says: "Its level is -11.968 LUFS, 0.032 LU too loud; the board's band for effects is -24 to -12 LUFS.",
  },
  {
    rule: 'level',
    when: 'a clash is as loud as a hum must not be',
    sound: { levels: { integratedLufs: -12 } },
    says: null,
  },
  {
    rule: 'level',
    when: 'music is at the edge of its band',
    path: 'music.wav',
    sound: { levels: { integratedLufs: -16 } },
    says: null,
  },
  {
    rule: 'level-spread',
    when: 'it is much softer than its sister',
    sound: { levels: { momentaryMaxLufs: -24 } },
    board: boardLikeBench44('levels: { effects: null }\n'),
    says: null,
  },
  {
    rule: 'level-spread',
    when: 'it is more than 6 LU softer than its sister',
    sound: { levels: { momentaryMaxLufs: -24.5 } },
    says: 'It is 6.5 LU quieter than clash-02.wav; sounds of one kind should stay within 6 LU.',
  },
  {
    rule: 'slow-onset',
    when: 'a clash comes late',
    sound: { measures: { onsetMs: 85 } },
    says: 'It is first heard after 85 ms; a clash should be heard within 40 ms.',
  },
  {
    rule: 'slow-onset',
    when: 'music comes late, as it may',
    path: 'music.wav',
    sound: { measures: { onsetMs: 900 } },
    says: null,
  },
  { rule: 'slow-onset', when: 'a clash comes at once', sound: { measures: { onsetMs: 40 } }, says: null },
  {
    rule: 'trailing-silence',
    when: 'a second of silence follows',
    sound: { measures: { trailingSilenceMs: 1000 } },
    says: 'It ends with 1000 ms of silence; 500 ms are plenty.',
  },
  {
    rule: 'trailing-silence',
    when: 'the silence is inside a loop',
    path: 'hum.wav',
    sound: { measures: { trailingSilenceMs: 1000 } },
    says: null,
  },
  {
    rule: 'loop-seam',
    when: 'a hum jumps at its seam',
    path: 'hum.wav',
    sound: { seam: { jumpRatio: 12.02 } },
    says: 'From its end to its beginning it jumps 12 times as far as between its other samples; 1.5 times goes unheard.',
  },
  {
    rule: 'loop-seam',
    when: 'a clash jumps from end to beginning, which it never plays',
    sound: { seam: { jumpRatio: 12 } },
    says: null,
  },
  {
    rule: 'loop-seam',
    when: 'a hum hardly jumps',
    path: 'hum.wav',
    sound: { seam: { jumpRatio: 1.5 } },
    says: null,
  },
  {
    rule: 'loop-seam',
    when: 'the beginning of a lockup jumps, which is no loop',
    path: 'lockup-begin.wav',
    sound: { seam: { jumpRatio: 9 } },
    says: null,
  },
  {
    rule: 'loop-dip',
    when: 'a hum fades at its ends',
    path: 'hum.wav',
    sound: { seam: { dipDb: -21 } },
    says: 'At its ends it is 21 dB softer than inside; 9 dB goes unheard.',
  },
  {
    rule: 'loop-dip',
    when: 'a hum stays even',
    path: 'hum.wav',
    sound: { seam: { dipDb: -4.7 } },
    says: null,
  },
  {
    rule: 'low-share',
    when: 'most of it lies below what the speaker gives',
    sound: { measures: { lowShare: 0.72 } },
    speakerLowLimitHz: 350,
    says: '72 % of its energy lies below 200 Hz; the speaker gives sound from 350 Hz.',
  },
  {
    rule: 'low-share',
    when: 'nobody knows what the speaker gives',
    sound: { measures: { lowShare: 0.72 } },
    says: null,
  },
  {
    rule: 'low-share',
    when: 'the speaker gives what the share is measured below',
    sound: { measures: { lowShare: 0.72 } },
    speakerLowLimitHz: 150,
    says: null,
  },
]

describe.each(CASES)(
  '$rule, when $when',
  ({ rule, path = 'clash-01.wav', sound, board, speakerLowLimitHz, throughSpeakerLufs, says }) => {
    test(says === null ? 'says nothing' : 'says what is so', () => {
      const { findings } = judged(fontLike({ sounds: { [path]: sound } }), board, {
        speakerLowLimitHz: speakerLowLimitHz ?? null,
        throughSpeakerLevelOf: ({ path: own }) => (own === path ? (throughSpeakerLufs ?? null) : null),
      })
      expect(foundBy(rule, findings)).toEqual(says === null ? [] : [`${path}: ${says}`])
    })
  },
)

describe('layered swings', () => {
  const low = 'swing-low-01.wav'
  const high = 'swing-high-01.wav'

  test.each([
    ['equal lengths', { [low]: pair(3), [high]: pair(3) }, [], []],
    [
      'different lengths',
      { [low]: pair(3), [high]: pair(3.5) },
      [`${high}: It lasts 3.5 s and its partner ${low} 3 s; the two must be equally long.`],
      [],
    ],
    [
      'a layer without its partner',
      { [low]: pair(3) },
      [],
      [`${low}: Its partner, the high layer, is missing.`],
    ],
  ])('with %s', (_what, sounds, lengths, incomplete) => {
    const { findings } = judged(fontLike({ sounds }))
    expect(foundBy('pair-lengths', findings)).toEqual(lengths)
    expect(foundBy('pair-incomplete', findings)).toEqual(incomplete)
  })

  test('of different rates are compared by what they last, to half a sample', () => {
    const sounds = {
      [low]: { facts: { seconds: 3, frames: 132_300 } },
      [high]: { facts: { seconds: 66_150.4 / 22_050, frames: 66_150, sampleRateHz: 22_050 } },
    }
    expect(foundBy('pair-lengths', judged(fontLike({ sounds })).findings)).toEqual([])
  })

  test('are not asked for by a board that does not pair them', () => {
    const board = boardLikeBench44('fonts: { pairsEqualLength: false }\n')
    expect(
      foundBy('pair-incomplete', judged(fontLike({ sounds: { [low]: pair(3) } }), board).findings),
    ).toEqual([])
  })
})

test('a file that is too large can be mended where preparing makes it small enough', () => {
  const board = boardLikeBench44('audio: { largestBytes: 1048576 }\n')
  const long = {
    sizeBytes: 3_000_000,
    facts: { frames: 500_000, seconds: 500_000 / 96_000, sampleRateHz: 96_000, bitDepth: 24, channels: 2 },
  }
  const whole = { sizeBytes: 3_000_000, facts: { frames: 1_499_978, seconds: 34 } }
  const mendable = (sound: SoundChange): boolean | undefined =>
    judged(fontLike({ sounds: { 'music.wav': sound } }), board).findings.find(
      (each) => each.rule === 'too-large',
    )?.fixable
  expect(mendable(long)).toBe(true)
  expect(mendable(whole)).toBe(false)
})

test('a sound of the shipped demo kind is taken by each board made for it', () => {
  const board = shippedBoard('bench-44')
  expect(judged(fontLike(), board)).toMatchObject({ findings: [], verdict: { word: 'ready' } })
})
