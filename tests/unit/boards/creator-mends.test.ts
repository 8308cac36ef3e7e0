import { readFileSync, readdirSync } from 'node:fs'
import { expect, test } from 'vitest'
import { CREATOR_MENDS, creatorMend } from '../../../app/boards/creator-mends.ts'
import { SWITCHED_OFF_MEND } from '../../../app/boards/judge.ts'
import { CARD_RULES, FONT_RULES } from '../../../app/boards/rules/all-rules.ts'
import { fontLike, judged, type SoundChange } from '../../support/judged-font.ts'
import { boardLikeBench44 } from '../../support/shipped-boards.ts'

const RULES = new URL('../../../app/boards/rules/', import.meta.url)
/** Words of this program that a creator knows nothing of. */
const OURS = /\bPrepared?\b|\bTranslate\b|cardwright/

test.each<[string, string, SoundChange, string]>([
  ['container', 'clash-01.wav', { facts: { container: 'rifx' } }, 'Export it again as WAV (riff).'],
  ['coding', 'clash-01.wav', { facts: { coding: 'alaw' } }, 'Export it again, coded as pcm.'],
  ['sample-rate', 'clash-01.wav', { facts: { sampleRateHz: 48_000 } }, 'Export it again at 44100 Hz.'],
  ['bit-depth', 'clash-01.wav', { facts: { bitDepth: 24 } }, 'Export it again with 16 bit.'],
  ['channels', 'clash-01.wav', { facts: { channels: 2 } }, 'Export it again in mono.'],
  ['unknown-sound', 'qqq.wav', { place: null }, 'Say what it is for, or give it a name that says so.'],
  [
    'clipped',
    'clash-01.wav',
    { measures: { clippedRuns: 3 } },
    'Export it again with room above the loudest peak: what is cut away cannot be brought back.',
  ],
  [
    'level',
    'clash-01.wav',
    { levels: { momentaryMaxLufs: -60, integratedLufs: -60 } },
    'Bring it to -24 to -12 LUFS; move the sounds of the font together, so that their balance stays.',
  ],
  [
    'true-peak',
    'clash-01.wav',
    { levels: { truePeakDbtp: 0.5 } },
    'Turn it down, or limit it, so that no true peak is above -1 dBTP.',
  ],
])('what %s finds is mended by the creator at the source', (rule, path, change, words) => {
  const { findings } = judged(fontLike({ sounds: { [path]: change } }))
  const finding = findings.find((each) => each.rule === rule)
  expect(finding).toBeDefined()
  expect(creatorMend(finding!)).toBe(words)
})

test('no rule about a font tells its creator to use this program', () => {
  const ofCards = new Set<string>(CARD_RULES.map(({ id }) => id))
  const ours = readdirSync(RULES)
    .filter((file) =>
      /mend: [^]*?\bPrepared?\b|mend: [^]*?\bTranslate\b/.test(readFileSync(new URL(file, RULES), 'utf8')),
    )
    .map((file) => file.replace(/\.ts$/, ''))
  expect(ours.length).toBeGreaterThan(15)
  expect(ours.filter((id) => !ofCards.has(id) && !(id in CREATOR_MENDS))).toEqual([])
  const known = new Set<string>(FONT_RULES.map(({ id }) => id))
  const finding = { severity: 'error', path: 'x', message: '', why: '', mend: '', fixable: true, measured: 1, limit: 1 } as const // prettier-ignore
  for (const [rule, mend] of Object.entries(CREATOR_MENDS)) {
    expect(known).toContain(rule)
    const words = mend({ ...finding, rule })
    expect(words).toMatch(/^[A-Z][^]*\.$/)
    expect(words).not.toMatch(OURS)
  }
})

test('a rule that the board switched off keeps its own words', () => {
  const board = boardLikeBench44('rules: { channels: { severity: off, reason: it mixes them itself } }\n')
  const { findings } = judged(fontLike({ sounds: { 'clash-01.wav': { facts: { channels: 2 } } } }), board)
  expect(findings.map(creatorMend)).toContain(SWITCHED_OFF_MEND)
})
