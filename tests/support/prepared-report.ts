import type { ResponseOf } from '../../app/contract/calls.ts'

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

/** The font's clash, had it not been to be made. */
export const failedSound: Sound = {
  ...clash,
  state: 'failed',
  problem: { code: 'prepare/no-ffmpeg', message: 'ffmpeg could not be run. Install ffmpeg.' },
  after: null,
}

/** What a run came to: a font with a sound made, one that was right, and one without a role; another font beside it. */
export const preparedReport: Report = {
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

/** The same font as a dry run tells it. */
export const dryRunReport: Report = {
  ...preparedReport,
  dryRun: true,
  counts: { unchanged: 0, made: 0, kept: 0, planned: 1, failed: 0 },
  fonts: [{ ...font, sounds: [{ ...clash, state: 'planned', after: null, foreseen: state }] }],
}
