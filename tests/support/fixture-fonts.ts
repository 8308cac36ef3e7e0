import { judgeCard, judgeEdition } from '../../app/boards/judge.ts'
import { folderNameOf } from '../../app/boards/folder-name.ts'
import { readRoles } from '../../app/boards/read-roles.ts'
import type { LicenceStanding } from '../../app/boards/rules/licence-standing.ts'
import type { RuleId } from '../../app/boards/rules/severities.ts'
import type { Board } from '../../app/model/board.ts'
import type { Finding } from '../../app/model/finding.ts'
import type { Edition } from '../../app/model/library.ts'
import type { SoundPlace } from '../../app/model/role.ts'
import type { Companion } from '../../app/model/sound.ts'
import { levelOfSound } from '../../app/usecases/judging.ts'
import { readCostOfFonts } from '../../app/usecases/read-cost-of-card.ts'
import { inspected } from './inspected.ts'
import { contextLike, fontLike } from './judged-font.ts'
import { boardLikeBench44, shippedBoard } from './shipped-boards.ts'
import { shippedScheme, shippedSchemes } from './shipped-schemes.ts'
import { amplitude, joined, sine } from './signals.ts'
import { ascii, chunk, wavFile, type WavOptions } from './wav-bytes.ts'

/** A font as real bytes, beside a board; what is not said is as in a font that `bench-44` plays. */
interface FixtureFont {
  readonly name?: string
  /** Files by path; null takes one of the whole font away. */
  readonly files?: Readonly<Record<string, Uint8Array | null>>
  /** Places that the user told, whatever the names say. */
  readonly told?: Readonly<Record<string, SoundPlace>>
  readonly companions?: readonly Companion[]
  readonly litter?: readonly string[]
  readonly creatorName?: string
  readonly licences?: readonly LicenceStanding[]
  readonly board?: Board
  readonly speakerLowLimitHz?: number
}

/** Fonts on one card, where a rule looks at them together. */
interface FixtureCard {
  readonly fonts: readonly FixtureFont[]
  readonly board: Board
  readonly config?: { readonly fileName: string; readonly text: string }
}

type Fixture = FixtureFont | FixtureCard

/** A font, or a card, in which the rule finds something, and one in which it finds nothing. */
interface RuleFixtures {
  readonly fires: Fixture
  readonly quiet: Fixture
}

const RATE_HZ = 44_100
/** 441 Hz: a hundred samples a turn, so that whole turns close upon themselves. */
const TURN_FRAMES = 100
const TONE_HZ = RATE_HZ / TURN_FRAMES

const wav = (samples: Float64Array, options: WavOptions = {}) =>
  wavFile([samples], { rateHz: RATE_HZ, ...options })
const tone = (peakDbfs: number, turns: number, frequencyHz = TONE_HZ) =>
  sine(RATE_HZ, frequencyHz, turns * TURN_FRAMES, amplitude(peakDbfs))
/** Effects differ in length, so that none is another's double. */
const effect = (turns: number, peakDbfs = -14) => wav(tone(peakDbfs, turns))
const silence = (seconds: number) => new Float64Array(Math.round(seconds * RATE_HZ))

const WHOLE: Readonly<Record<string, Uint8Array>> = {
  'hum.wav': wav(tone(-18, 882)),
  'ignite-01.wav': effect(300),
  'retract-01.wav': effect(310),
  'swing-01.wav': effect(320),
  'swing-02.wav': effect(330),
  'clash-01.wav': effect(340),
  'clash-02.wav': effect(350),
}

const clash = (bytes: Uint8Array): FixtureFont => ({ files: { 'clash-01.wav': bytes } })
const hum = (bytes: Uint8Array): FixtureFont => ({ files: { 'hum.wav': bytes } })
/** The whole font under other names. */
const renamed = (names: Readonly<Record<string, string>>): Readonly<Record<string, Uint8Array | null>> => ({
  ...Object.fromEntries(Object.keys(names).map((from) => [from, null])),
  ...Object.fromEntries(Object.entries(names).map(([from, to]) => [to, WHOLE[from] ?? null])),
})
const companion = (path: string, kind: Companion['kind']): Companion => ({
  path,
  sizeBytes: 900,
  sha256: path,
  kind,
})
const bought = (change: Partial<LicenceStanding> = {}): LicenceStanding => ({
  kind: 'bought',
  forbids: null,
  seatsLeft: null,
  credit: null,
  ...change,
})
const pair = (low: number, high: number): FixtureFont => ({
  files: { 'swing-low-01.wav': effect(low), 'swing-high-01.wav': effect(high, -15) },
})
const cut = (bytes: Uint8Array, keptBytes: number): Uint8Array => bytes.slice(0, keptBytes)

const bench44 = shippedBoard('bench-44')
const bench48 = shippedBoard('bench-48')
const named = (board: Board, ...names: readonly string[]): FixtureCard => ({
  board,
  fonts: names.map((name) => ({ name })),
})
const withConfig = (card: FixtureCard, fileName: string, ...lines: readonly string[]): FixtureCard => ({
  ...card,
  config: { fileName, text: `${lines.join('\n')}\n` },
})
const twoOn48 = named(bench48, 'Amber', 'Zinc')
const allNamed = withConfig(twoOn48, 'bench.conf', 'font = Amber', 'font = Zinc')

/**
 * For each rule a font in which it fires and one in which it does not, as files: what a scan would read
 * from disk. A new rule does not compile without its two.
 */
export const FIXTURE_FONTS: Readonly<Record<RuleId, RuleFixtures>> = {
  unreadable: { fires: clash(ascii('This is no sound at all.')), quiet: clash(effect(200)) },
  container: {
    fires: clash(wav(tone(-14, 200), { isBigEndian: true })),
    quiet: clash(wav(tone(-14, 200), { isBigEndian: false })),
  },
  coding: {
    fires: clash(wav(tone(-14, 200), { isFloat: true, bits: 32 })),
    quiet: clash(wav(tone(-14, 200))),
  },
  'sample-rate': {
    fires: clash(wav(tone(-14, 200), { rateHz: 48_000 })),
    quiet: clash(wav(tone(-14, 200), { rateHz: 44_100 })),
  },
  'one-rate': {
    fires: {
      ...clash(wav(tone(-14, 200), { rateHz: 48_000 })),
      board: boardLikeBench44('audio: { sampleRatesHz: [44100, 48000] }\n'),
    },
    quiet: { board: boardLikeBench44('audio: { sampleRatesHz: [44100, 48000] }\n') },
  },
  'bit-depth': { fires: clash(wav(tone(-14, 200), { bits: 24 })), quiet: clash(effect(200)) },
  channels: {
    fires: clash(wavFile([tone(-14, 200), tone(-14, 200)], { rateHz: RATE_HZ })),
    quiet: clash(effect(200)),
  },
  'plain-header': {
    fires: clash(wav(tone(-14, 200), { before: [chunk('note', ascii('by hand.'))] })),
    quiet: {
      ...clash(wav(tone(-14, 200), { after: [chunk('note', ascii('by hand.'))] })),
      board: boardLikeBench44('audio: { header: any }\n'),
    },
  },
  truncated: { fires: clash(cut(effect(200), 30_000)), quiet: clash(effect(150)) },
  empty: { fires: clash(wav(new Float64Array(0))), quiet: clash(effect(30)) },
  'too-long': {
    fires: { ...clash(effect(600)), board: boardLikeBench44('audio: { longestSeconds: 1.3 }\n') },
    quiet: { ...clash(effect(500)), board: boardLikeBench44('audio: { longestSeconds: 2.5 }\n') },
  },
  'too-large': {
    fires: { ...clash(effect(900)), board: boardLikeBench44('audio: { largestBytes: 177000 }\n') },
    quiet: { ...clash(effect(800)), board: boardLikeBench44('audio: { largestBytes: 177000 }\n') },
  },
  defects: {
    fires: clash(joinedBytes(effect(200), ascii('bytes behind the end'))),
    quiet: clash(effect(200)),
  },
  silent: { fires: clash(wav(silence(0.5))), quiet: clash(wav(tone(-20, 200))) },
  clipped: {
    fires: clash(wav(Float64Array.from(tone(6, 200), (value) => Math.max(-1, Math.min(1, value))))),
    quiet: clash(wav(tone(-3, 200))),
  },
  'dc-offset': {
    fires: clash(wav(Float64Array.from(tone(-14, 200), (value) => value + 0.05))),
    quiet: clash(effect(200)),
  },
  'true-peak': { fires: clash(wav(tone(-0.3, 200))), quiet: clash(wav(tone(-1.6, 200))) },
  level: { fires: clash(wav(tone(-30, 200))), quiet: clash(wav(tone(-16, 200))) },
  'level-spread': { fires: clash(wav(tone(-22, 300))), quiet: clash(wav(tone(-17, 300))) },
  'slow-onset': {
    fires: clash(wav(joined(silence(0.09), tone(-14, 200)))),
    quiet: clash(wav(joined(silence(0.01), tone(-14, 200)))),
  },
  'trailing-silence': {
    fires: clash(wav(joined(tone(-14, 200), silence(0.9)))),
    quiet: clash(wav(joined(tone(-14, 200), silence(0.2)))),
  },
  'loop-seam': {
    // A quarter turn too much: the end stands at the crest, the beginning at zero.
    fires: hum(wav(sine(RATE_HZ, TONE_HZ, 88_225, amplitude(-18)))),
    quiet: hum(wav(sine(RATE_HZ, TONE_HZ, 88_200, amplitude(-18)))),
  },
  'loop-dip': {
    fires: hum(wav(Float64Array.from(tone(-18, 882), (value, at) => value * fade(at, 88_200, 2000)))),
    quiet: hum(wav(tone(-18, 882))),
  },
  'pair-lengths': { fires: pair(500, 505), quiet: pair(500, 500) },
  'low-share': {
    fires: { ...clash(wav(tone(-4, 440, 60))), speakerLowLimitHz: 300 },
    quiet: { ...clash(wav(tone(-14, 200))), speakerLowLimitHz: 300 },
  },
  'name-charset': { fires: { files: renamed({ 'clash-02.wav': 'clash 02.wav' }) }, quiet: {} },
  'name-case': { fires: { files: { 'Odd.wav': effect(360) } }, quiet: { files: { 'odd.wav': effect(360) } } },
  'name-length': {
    fires: { files: renamed({ 'clash-02.wav': `clash-${'0'.repeat(60)}2.wav` }) },
    quiet: { files: renamed({ 'clash-02.wav': `clash-${'0'.repeat(20)}2.wav` }) },
  },
  'path-length': {
    fires: { files: renamed({ 'clash-02.wav': `${'clash/'.repeat(20)}clash-02.wav` }) },
    quiet: { files: renamed({ 'clash-02.wav': 'clash/clash-02.wav' }) },
  },
  'case-clash': {
    fires: { files: { 'Odd.wav': effect(360), 'odd.wav': effect(370) } },
    quiet: { files: { 'odd.wav': effect(360), 'even.wav': effect(370) } },
  },
  'reserved-name': {
    fires: { files: { 'aux.wav': effect(360) } },
    quiet: { files: { 'auxiliary.wav': effect(360) } },
  },
  'trailing-dot-or-space': {
    fires: { files: { 'extra./clash-03.wav': effect(360) } },
    quiet: { files: { 'extra/clash-03.wav': effect(360) } },
  },
  'normal-form-clash': {
    fires: { files: { 'caf\u00e9.wav': effect(360), 'cafe\u0301.wav': effect(370) } },
    quiet: { files: { 'caf\u00e9.wav': effect(360), 'cafe.wav': effect(370) } },
  },
  'scheme-name': {
    fires: { files: renamed({ 'clash-02.wav': 'clash-03.wav' }) },
    quiet: {},
  },
  unspellable: {
    // No scheme that ships has a name for the beginning of a layer.
    fires: { told: { 'clash-02.wav': { role: 'swing', part: 'begin', layer: 'low', number: 1 } } },
    quiet: { told: { 'clash-02.wav': { role: 'lockup', part: 'begin', layer: null, number: 1 } } },
  },
  'card-path': {
    fires: {
      name: 'A font with a name of many words',
      board: boardLikeBench44('names: { longestPathUnits: 40 }\n'),
    },
    quiet: { name: 'Short', board: boardLikeBench44('names: { longestPathUnits: 40 }\n') },
  },
  'role-missing': { fires: { files: { 'hum.wav': null } }, quiet: {} },
  'pair-incomplete': {
    fires: { files: { 'swing-low-01.wav': effect(500) } },
    quiet: pair(500, 500),
  },
  'too-many-sounds': {
    fires: { board: boardLikeBench44('fonts: { mostSoundsByRole: { clash: 1 } }\n') },
    quiet: { board: boardLikeBench44('fonts: { mostSoundsByRole: { clash: 2 } }\n') },
  },
  'number-gap': { fires: { files: renamed({ 'clash-02.wav': 'clash-04.wav' }) }, quiet: {} },
  'unknown-sound': { fires: { files: { 'xylophone.wav': effect(360) } }, quiet: {} },
  'unknown-file': {
    fires: { companions: [companion('tool.bin', 'other')] },
    quiet: { companions: [companion('read-me.txt', 'text')] },
  },
  litter: { fires: { litter: ['.DS_Store'] }, quiet: { companions: [companion('cover.png', 'picture')] } },
  duplicate: {
    fires: { files: { 'clash-03.wav': WHOLE['clash-02.wav'] ?? null } },
    quiet: { files: { 'clash-03.wav': effect(360) } },
  },
  'too-many-fonts': {
    fires: named(boardLikeBench44('fonts: { mostFonts: 2 }\n'), 'Amber', 'Basalt', 'Copper'),
    quiet: named(boardLikeBench44('fonts: { mostFonts: 2 }\n'), 'Amber', 'Basalt'),
  },
  'folder-order': { fires: named(bench48, 'Zinc', 'Amber'), quiet: named(bench48, 'Amber', 'Zinc') },
  'card-level-spread': {
    fires: { board: bench44, fonts: [{ name: 'Amber' }, { name: 'Zinc', ...hum(wav(tone(-20, 882))) }] },
    quiet: { board: bench44, fonts: [{ name: 'Amber' }, { name: 'Zinc', ...hum(wav(tone(-18.5, 882))) }] },
  },
  'read-cost': {
    fires: named(boardLikeBench44('card: { mostSectorsToOpen: 1 }\n'), 'Amber'),
    quiet: named(boardLikeBench44('card: { mostSectorsToOpen: 8 }\n'), 'Amber'),
  },
  'config-missing': { fires: twoOn48, quiet: allNamed },
  'config-folder-absent': {
    fires: withConfig(twoOn48, 'bench.conf', 'font = Amber', 'font = Zinc', 'font = Copper'),
    quiet: allNamed,
  },
  'config-folder-unnamed': { fires: withConfig(twoOn48, 'bench.conf', 'font = Amber'), quiet: allNamed },
  'config-order': {
    fires: withConfig(twoOn48, 'bench.conf', 'font = Zinc', 'font = Amber'),
    quiet: allNamed,
  },
  'config-copy-differs': {
    fires: withConfig(named(bench44, 'Amber'), 'settings.txt', 'font 01-copper'),
    quiet: withConfig(named(bench44, 'Amber'), 'settings.txt', 'font 01-amber'),
  },
  'licence-none': { fires: { licences: [] }, quiet: { licences: [bought()] } },
  'licence-forbids': {
    fires: { licences: [bought({ forbids: 'Not for sale.' })] },
    quiet: { licences: [bought({ forbids: 'Not for sale.' }), bought()] },
  },
  'licence-no-seat': {
    fires: { licences: [bought({ seatsLeft: 0 })] },
    quiet: { licences: [bought({ seatsLeft: 1 })] },
  },
  'licence-credit': {
    fires: { creatorName: 'Varnisk', licences: [bought({ credit: 'Name the maker.' })] },
    quiet: { creatorName: 'Varnisk', licences: [bought()] },
  },
}

/** Everything that a board says of a fixture. */
export function findingsIn(fixture: Fixture): readonly Finding[] {
  if (!('fonts' in fixture)) {
    const board = fixture.board ?? bench44
    const { speakerLowLimitHz = null, licences = null } = fixture
    return judgeEdition(editionOf(fixture), board, contextLike(board, { speakerLowLimitHz, licences }))
      .findings
  }
  const { board, config = null } = fixture
  const fonts = fixture.fonts.map((font, index) => {
    const slot = board.fonts.firstSlot + index
    const edition = editionOf(font)
    return { edition, slot, folder: folderNameOf(board, slot, edition.font.name) }
  })
  const scheme = shippedScheme(board.names.scheme)
  return judgeCard({
    board,
    fonts,
    config,
    readCost: readCostOfFonts(
      board,
      scheme,
      fonts.map(({ edition }) => edition),
    ),
    context: { levelOf: levelOfSound, speakerLowLimitHz: null, inPlace: false },
  })
}

/** The font as a scan would know it: bytes inspected, names read by the shipped schemes. */
function editionOf({ name, files = {}, told = {}, companions, litter, creatorName }: FixtureFont): Edition {
  const all = Object.entries({ ...WHOLE, ...files }).flatMap(([path, bytes]) =>
    bytes === null ? [] : [{ path, bytes }],
  )
  const { places } = readRoles(
    all.map(({ path }) => path),
    shippedSchemes,
  )
  const edition = fontLike(
    {
      ...(name === undefined ? {} : { name }),
      ...(companions === undefined ? {} : { companions }),
      ...(litter === undefined ? {} : { litter }),
      ...(creatorName === undefined ? {} : { creatorName }),
    },
    {},
  )
  return {
    ...edition,
    soundCount: all.length,
    sounds: all.map(({ path, bytes }, index) => ({
      id: path,
      editionId: edition.id,
      path,
      place: told[path] ?? places[index] ?? null,
      roleSource: 'scheme' as const,
      inspection: inspected(bytes).inspection,
    })),
  }
}

function fade(at: number, frames: number, over: number): number {
  return Math.min(1, at / over, (frames - 1 - at) / over)
}

function joinedBytes(...parts: readonly Uint8Array[]): Uint8Array {
  return Uint8Array.from(parts.flatMap((part) => [...part]))
}
