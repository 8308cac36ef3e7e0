import { describe, expect, test } from 'vitest'
import { RULE_IDS, SEVERITIES_BY_RULE } from '../../../../app/boards/rules/severities.ts'
import { CARD_RULES, FONT_RULES } from '../../../../app/boards/rules/all-rules.ts'
import type { LicenceStanding } from '../../../../app/boards/rules/licence-standing.ts'
import type { Board } from '../../../../app/model/board.ts'
import { boardLikeBench44, shippedBoard } from '../../../support/shipped-boards.ts'
import { fontLike, foundBy, judged, type FontChange } from '../../../support/judged-font.ts'

const many = (role: string, count: number): Record<string, object> =>
  Object.fromEntries(
    Array.from({ length: count }, (_, index) => [`${role}-${String(index + 1).padStart(2, '0')}.wav`, {}]),
  )
const companion = (path: string, kind: 'text' | 'other') => ({ path, sizeBytes: 2048, sha256: 'x', kind })

interface Case {
  readonly rule: string
  readonly when: string
  readonly font: FontChange
  readonly says: readonly string[]
}

const CASES: readonly Case[] = [
  {
    rule: 'role-missing',
    when: 'the hum is missing',
    font: { sounds: { 'hum.wav': null } },
    says: ['(font): There is no sound for hum; the board needs at least one.'],
  },
  {
    rule: 'role-missing',
    when: 'only what is heard before ignition is there',
    font: { sounds: { 'ignite-01.wav': null, 'ignite-before.wav': {} } },
    says: ['(font): There is no sound for ignite; the board needs at least one.'],
  },
  { rule: 'role-missing', when: 'all are there', font: {}, says: [] },
  {
    rule: 'too-many-sounds',
    when: 'there are 17 clashes',
    font: { sounds: many('clash', 17) },
    says: ['(font): There are 17 sounds for clash; the board takes at most 16.'],
  },
  { rule: 'too-many-sounds', when: 'there are 16 clashes', font: { sounds: many('clash', 16) }, says: [] },
  {
    rule: 'too-many-sounds',
    when: '32 pairs of swings count once each',
    font: {
      sounds: {
        'swing-01.wav': null,
        'swing-02.wav': null,
        ...many('swing-low', 32),
        ...many('swing-high', 32),
      },
    },
    says: [],
  },
  {
    rule: 'number-gap',
    when: 'number 3 of 4 is missing',
    font: { sounds: { 'swing-04.wav': {} } },
    says: ['swing-04.wav: It is number 4 of swing, and 3 comes next; the board counts from 1 without gaps.'],
  },
  {
    rule: 'number-gap',
    when: 'numbers start at 0',
    font: { sounds: { 'deflect-00.wav': {}, 'deflect-01.wav': {} } },
    says: [
      'deflect-00.wav: It is number 0 of deflect, and 1 comes next; the board counts from 1 without gaps.',
    ],
  },
  {
    rule: 'number-gap',
    when: 'the first carries no number and the second is 2',
    font: { sounds: { 'deflect.wav': {}, 'deflect-02.wav': {} } },
    says: [],
  },
  { rule: 'number-gap', when: 'numbers run on', font: {}, says: [] },
  {
    rule: 'unknown-sound',
    when: 'one sound has no role',
    font: { sounds: { 'klang.wav': { place: null } } },
    says: ['klang.wav: Nobody knows what this sound is for.'],
  },
  { rule: 'unknown-sound', when: 'all have one', font: {}, says: [] },
  {
    rule: 'unknown-file',
    when: 'a stranger lies beside',
    font: { companions: [companion('tool.bin', 'other')] },
    says: ['tool.bin: It is no sound, text, picture or document (2 KiB).'],
  },
  {
    rule: 'unknown-file',
    when: 'a text lies beside',
    font: { companions: [companion('about.txt', 'text')] },
    says: [],
  },
  {
    rule: 'litter',
    when: 'an operating system left something',
    font: { litter: ['.DS_Store'] },
    says: ['.DS_Store: An operating system left this file; it belongs to no font.'],
  },
  { rule: 'litter', when: 'nothing was left', font: {}, says: [] },
  {
    rule: 'duplicate',
    when: 'two clashes are one sound',
    font: { sounds: { 'clash-01.wav': { sampleHash: 'same' }, 'clash-02.wav': { sampleHash: 'same' } } },
    says: ['clash-02.wav: It is the same sound as clash-01.wav.'],
  },
  {
    rule: 'duplicate',
    when: 'two files are both empty, which is told already',
    font: {
      sounds: {
        'clash-01.wav': { sampleHash: 'same', facts: { frames: 0 } },
        'clash-02.wav': { sampleHash: 'same', facts: { frames: 0 } },
      },
    },
    says: [],
  },
]

describe.each(CASES)('$rule, when $when', ({ rule, font, says }) => {
  test(says.length === 0 ? 'says nothing' : 'says what is so', () => {
    expect(foundBy(rule, judged(fontLike(font)).findings)).toEqual(says)
  })
})

const licence = (change: Partial<LicenceStanding> = {}): LicenceStanding => ({
  kind: 'bought',
  forbids: null,
  seatsLeft: null,
  credit: null,
  ...change,
})

describe.each([
  { rule: 'licence-none', licences: [], says: ['(font): No licence for this font is on record.'] },
  { rule: 'licence-none', licences: [licence()], says: [] },
  {
    rule: 'licence-forbids',
    licences: [licence({ forbids: 'Personal use only' })],
    says: ['(font): The terms on record say "Personal use only".'],
  },
  { rule: 'licence-forbids', licences: [licence({ forbids: 'Personal use only' }), licence()], says: [] },
  {
    rule: 'licence-no-seat',
    licences: [licence({ seatsLeft: 0 })],
    says: ['(font): All uses of the licence on record are taken.'],
  },
  { rule: 'licence-no-seat', licences: [licence({ seatsLeft: 1 })], says: [] },
  { rule: 'licence-no-seat', licences: [licence({ seatsLeft: 0 }), licence()], says: [] },
  {
    rule: 'licence-credit',
    licences: [licence({ credit: 'name the maker' })],
    says: ['(font): The terms ask for its maker to be named ("name the maker").'],
  },
  { rule: 'licence-credit', licences: [licence()], says: [] },
])('$rule with $licences', ({ rule, licences, says }) => {
  test(says.length === 0 ? 'says nothing' : 'says what is so', () => {
    expect(foundBy(rule, judged(fontLike(), undefined, { licences }).findings)).toEqual(says)
  })
})

describe('the severity table', () => {
  test('has an entry for every rule, and no other', () => {
    expect([...FONT_RULES, ...CARD_RULES].map((rule) => rule.id).sort()).toEqual([...RULE_IDS].sort())
  })

  test('has no licence rule above a warning', () => {
    for (const id of RULE_IDS.filter((each) => each.startsWith('licence-'))) {
      expect(SEVERITIES_BY_RULE[id].severity).not.toBe('error')
    }
  })
})

describe('the verdict', () => {
  test.each([
    ['ready', {}, 'ready'],
    ['ready with warnings', { sounds: { 'clash-01.wav': { measures: { clippedRuns: 3 } } } }, 'ready'],
    [
      'fixable where every error has a mend',
      { sounds: { 'clash-01.wav': { facts: { channels: 2 } } } },
      'fixable',
    ],
    [
      'blocked where one error has none',
      { sounds: { 'clash-01.wav': { facts: { channels: 2 } }, 'hum.wav': null } },
      'blocked',
    ],
  ] as const)('is %s', (_what, font, word) => {
    expect(judged(fontLike(font)).verdict.word).toBe(word)
  })

  test('is unrecognised where no role is known, and the audio is judged all the same', () => {
    const names = ['a.wav', 'b.wav'].map(
      (name) => [name, { place: null, facts: { sampleRateHz: 8000 } }] as const,
    )
    const { verdict, findings } = judged(fontLike({}, Object.fromEntries(names)))
    expect(verdict.word).toBe('unrecognised')
    expect(foundBy('sample-rate', findings)).toHaveLength(2)
    expect(foundBy('role-missing', findings)).toEqual([])
  })

  test('says how many limits of the board nobody knows', () => {
    const known = judged(fontLike()).verdict.unknownLimitCount
    const board = boardLikeBench44('known: { audio.channels: unknown, fonts.order: unknown }\n')
    expect(judged(fontLike(), board).verdict.unknownLimitCount).toBe(known + 2)
  })
})

describe('a rule that is weighed anew', () => {
  const clipped = fontLike({ sounds: { 'clash-01.wav': { measures: { clippedRuns: 3 } } } })

  test('by the board carries its reason', () => {
    const board = boardLikeBench44('rules: { clipped: { severity: error, reason: it hisses at once } }\n')
    const { findings, verdict } = judged(clipped, board)
    expect(findings[0]).toMatchObject({ rule: 'clipped', severity: 'error' })
    expect(findings[0]?.why).toContain('Weighed as error by the board: it hisses at once')
    expect(verdict.word).toBe('blocked')
  })

  test('and switched off leaves a note with the reason, where it would have found something', () => {
    const board = boardLikeBench44('rules: { clipped: { severity: off, reason: meant to crackle } }\n')
    const { findings } = judged(clipped, board)
    expect(findings).toMatchObject([
      { rule: 'clipped', severity: 'note', path: null, why: 'The reason given: meant to crackle.' },
    ])
    expect(judged(fontLike(), board).findings).toEqual([])
  })

  test('by the build goes before the board', () => {
    const board = boardLikeBench44(
      'rules: { clipped: { severity: error, reason: board }, litter: { severity: off, reason: x } }\n',
    )
    const changes = [{ rule: 'clipped', severity: 'off', reason: 'agreed with the client' }] as const
    expect(judged(clipped, board, { changes }).findings[0]?.message).toContain('switched off by the build')
  })
})

test('every finding says what it does on the board and how to mend it', () => {
  const worst = fontLike({
    sounds: {
      'clash-01.wav': {
        facts: { channels: 9, bitDepth: 32, container: 'bw64' },
        levels: { truePeakDbtp: 3 },
      },
    },
    litter: ['x'],
  })
  for (const board of ['bench-44', 'bench-32', 'bench-48'].map(shippedBoard)) {
    const { findings } = judged(worst, board, { licences: [] })
    expect(findings.length).toBeGreaterThan(3)
    for (const finding of findings) {
      for (const text of [finding.message, finding.why, finding.mend]) expect(text).toMatch(/^.{8,}[.!)]$/u)
    }
  }
})

describe('a most that a board was only seen to play', () => {
  const seen = boardLikeBench44(
    'audio: { longestSeconds: 2 }\nfonts: { mostSoundsByRole: { clash: 1 } }\nknown: { audio.longestSeconds: seen playing, fonts.mostSoundsByRole: seen playing }\n',
  )
  const stated = boardLikeBench44('audio: { longestSeconds: 2 }\nfonts: { mostSoundsByRole: { clash: 1 } }\n')
  const long = fontLike({ sounds: { 'music.wav': { facts: { seconds: 3 } } } })
  const told = (board: Board) =>
    judged(long, board).findings.flatMap(({ rule, severity, message, why }) =>
      rule.startsWith('too-') ? [`${severity}: ${message} ${why}`] : [],
    )

  test('is no proof that more fails: passing it is a warning, and says what to try', () => {
    expect(told(seen)).toEqual([
      'warning: There are 2 sounds for clash; the most that was seen playing is 1. More was never tried on this board: try it in the hilt. Where it fails: The board refuses the font, or never plays the last ones.',
      'warning: It lasts 3 s; the most that was seen playing is 2 s. More was never tried on this board: try it in the hilt. Where it fails: The board cuts it off or refuses it.',
    ])
    expect(judged(long, seen).verdict.word).toBe('ready')
  })

  test('is an error once it is stated', () => {
    expect(told(stated)).toEqual([
      expect.stringMatching(/^error: There are 2 sounds for clash; the board takes at most 1\. The/),
      expect.stringMatching(/^error: It lasts 3 s; the board plays at most 2 s\. The board cuts/),
    ])
  })

  test('is weighed as the build says, where that says so', () => {
    const changes = [{ rule: 'too-long', severity: 'error' as const, reason: 'it failed in the hilt' }]
    const found = judged(long, seen, { changes }).findings.find(({ rule }) => rule === 'too-long')
    expect(found).toMatchObject({ severity: 'error', why: expect.stringMatching(/failed in the hilt\.$/) })
    expect(found).not.toHaveProperty('mostOf')
  })
})

test('a sound that was told to be for nothing is no riddle any more', () => {
  const font = fontLike({ sounds: { 'klang.wav': { place: null } } })
  const told = font.sounds.map((sound) =>
    sound.path === 'klang.wav' ? { ...sound, roleSource: 'user' as const } : sound,
  )
  expect(foundBy('unknown-sound', judged(font).findings)).toHaveLength(1)
  expect(judged({ ...font, sounds: told })).toMatchObject({ findings: [], verdict: { word: 'ready' } })
})
