import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../../app/contract/calls.ts'
import { preparingPage } from '../../../../app/usecases/prepare/preparing-page.ts'

type Report = ResponseOf<'prepare'>
type Font = Report['fonts'][number]
type Sound = Font['sounds'][number]

const state = {
  sha256: 'a',
  sizeBytes: 44_144,
  sampleRateHz: 44_100,
  bitDepth: 16,
  channels: 1,
  seconds: 0.5,
  levelLufs: -20.04,
  truePeakDbtp: -3,
  dcOffset: 0,
  jumpRatio: null,
  dipDb: null,
}

const clash: Sound = {
  soundId: 's1',
  path: 'clash <1>.wav',
  role: 'clash',
  isLoop: false,
  state: 'made',
  wrong: ['The sample rate is 48000 Hz; the board plays 44100 Hz.'],
  steps: [
    { step: 'sample-rate', rule: 'sample-rate', reason: 'r', numbers: {}, inWords: '48000 → 44100 Hz' },
  ],
  told: [],
  problem: null,
  before: { ...state, sampleRateHz: 48_000, levelLufs: -23 },
  after: state,
  foreseen: null,
  matchedLoudness: null,
}
const right: Sound = {
  ...clash,
  soundId: 's2',
  path: 'swing.wav',
  role: 'swing',
  state: 'unchanged',
  wrong: [],
  steps: [],
  before: state,
  after: null,
}
const withoutRole: Sound = { ...right, soundId: 's3', path: 'thud.wav', role: null }

const font: Font = {
  editionId: 'e1',
  font: 'Ember & Ash',
  version: '2',
  gainDb: -7.5,
  humBeforeLufs: -14.5,
  humAfterLufs: -22,
  verdictBefore: { word: 'fixable', errorCount: 1, warningCount: 0, noteCount: 0, unknownLimitCount: 0 },
  verdictAfter: { word: 'ready', errorCount: 0, warningCount: 1, noteCount: 0, unknownLimitCount: 0 },
  stillWrong: [
    {
      rule: 'level',
      severity: 'warning',
      path: 'boot.wav',
      message: 'Its level is -6 LUFS.',
      why: '',
      mend: '',
      fixable: true,
      measured: -6,
      limit: '',
    },
  ],
  told: [],
  sounds: [clash, right, withoutRole],
  folder: null,
}

const report: Report = {
  board: 'bench-44',
  boardTitle: 'Bench 44',
  speakerLowLimitHz: 250,
  dryRun: false,
  tools: 'steps-3, ffmpeg 7, soxr',
  fallBack: null,
  cautions: ['Play them quietly the first time.'],
  spreadBeforeLu: 21.6,
  spreadAfterLu: 0.02,
  allowedSpreadLu: 1,
  humBand: { lowestLufs: -24, highestLufs: -20 },
  fonts: [font, { ...font, editionId: 'e2', font: 'Other', version: '', gainDb: null, humAfterLufs: null }],
  choices: [{ editionId: 'e1', step: 'gain', value: -3, role: 'clash', path: null }],
  counts: { unchanged: 1, made: 12, kept: 0, planned: 0, failed: 0 },
}

const dry: Report = {
  ...report,
  dryRun: true,
  counts: { unchanged: 0, made: 0, kept: 0, planned: 1, failed: 0 },
  fonts: [{ ...font, sounds: [{ ...clash, state: 'planned', after: null, foreseen: state }] }],
}

/** Texts of the cells of a row, by what its first cell says. */
function rowOf(html: string, head: string): readonly string[] {
  const row = html.split('\n').find((line) => line.startsWith('<tr>') && line.includes(`>${head}</th>`))
  return [...(row ?? '').matchAll(/<td>(.*?)<\/td>/g)].map((match) => match[1] ?? '')
}

describe('the page of what was prepared', () => {
  const html = preparingPage(report)

  test('tells how many sounds, what to mind, how even the hums are, and the words it followed', () => {
    expect(html).toContain('<title>Prepared for Bench 44</title>')
    expect(html).toContain('<p>Sounds for bench-44: 12 made, 1 left as it is.</p>')
    expect(html).toContain('<strong>Caution:</strong> Play them quietly the first time.')
    expect(html).toContain(
      'Hums of these fonts differed by 21.6 LU and now differ by 0.0 LU (the board allows 1 LU), as heard through a speaker from 250 Hz up.',
    )
    expect(html).toContain('<li>Ember &amp; Ash v2, clash: gain set to −3 dB</li>')
  })

  test('has every font in one table: verdicts, hums and gain', () => {
    expect(rowOf(html, 'Ember &amp; Ash v2')).toEqual([
      'fixable: 1 error',
      'ready: 1 warning',
      '−14.5',
      '−22.0',
      '−7.5',
    ])
    expect(rowOf(html, 'Other').slice(3)).toEqual(['–', '–'])
  })

  test('has each sound with what was wrong, what was done, before and after, and what is still so', () => {
    expect(rowOf(html, 'clash &lt;1&gt;.wav')).toEqual([
      'The sample rate is 48000 Hz; the board plays 44100 Hz.',
      '48000 → 44100 Hz',
      '48000 → 44100 Hz<br>−23.0 → −20.0 LUFS',
    ])
    expect(html).toContain('Still so: boot.wav: Its level is −6 LUFS.')
    expect(html).toContain('Right as it is: <span class="path">swing.wav</span>')
  })

  test('names sounds without a role: they are not prepared', () => {
    expect(html).toContain('Role not known: <span class="path">thud.wav</span>')
  })

  test('tells its picture to those who do not see it, and its tables by their headings', () => {
    expect(html).toMatch(/<svg [^>]*role="img" aria-label="Loudness of 2 fonts before and after; [^"]+"/)
    for (const [, head] of html.matchAll(/<th( [^>]*)?>/g)) expect(head).toMatch(/scope="(col|row)"/)
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map((match) => match[1])
    expect(new Set(ids).size).toBe(ids.length)
    for (const [, id] of html.matchAll(/aria-labelledby="([^"]+)"/g)) expect(ids).toContain(id)
  })
})

describe('the page of a dry run', () => {
  const html = preparingPage(dry)

  test('says that nothing was made', () => {
    expect(html).toContain('<title>What preparing for Bench 44 would do</title>')
    expect(html).toContain('1 would be made')
    expect(html).toContain('and would then differ by 0.0 LU')
    expect(html).toContain('What would be done')
    expect(html).toContain('as it would be')
    expect(html).not.toMatch(/Prepared for|What was done|now differ|[Hh]um after/)
  })

  test('does not call still so what nobody has touched yet', () => {
    expect(html).not.toContain('Still so')
  })
})
