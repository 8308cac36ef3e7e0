import type {
  Board,
  BoardAudio,
  BoardCard,
  BoardFonts,
  BoardLevels,
  BoardNames,
  LevelBand,
} from '../model/board.ts'
import { inBytes, listed, oneOrMore } from './in-words.ts'

/** One limit of a board: where it stands, what holds while nobody knows it, and how to say it. */
export interface Limit {
  /** Section and key, as in a board file: `audio.sampleRatesHz`. */
  readonly path: string
  /** What the plan of a card works with where the limit is unknown; null judges and plans nothing. */
  readonly whenUnknown: unknown
  /** The limit in one sentence. */
  inWords(board: Board): string
}

interface Sections {
  readonly audio: BoardAudio
  readonly fonts: BoardFonts
  readonly names: BoardNames
  readonly card: BoardCard
  readonly levels: BoardLevels
}

function limit<S extends keyof Sections, K extends keyof Sections[S] & string>(
  section: S,
  key: K,
  whenUnknown: Sections[S][K],
  inWords: (value: Sections[S][K]) => string,
): Limit {
  return {
    path: `${section}.${key}`,
    whenUnknown,
    inWords: (board) => inWords((board as Sections)[section][key]),
  }
}

/** As `limit`, where null says that there is no such limit. */
function openLimit<S extends keyof Sections, K extends keyof Sections[S] & string>(
  section: S,
  key: K,
  none: string,
  inWords: (value: NonNullable<Sections[S][K]>) => string,
): Limit {
  return {
    path: `${section}.${key}`,
    whenUnknown: null,
    inWords: (board) => {
      const value = (board as Sections)[section][key]
      return value === null || value === undefined ? none : inWords(value)
    },
  }
}

const band = (what: string) => (value: LevelBand) =>
  `${what}: ${value.lowestLufs} to ${value.highestLufs} LUFS.`

/** Every limit that a board file can set, in the order of its sections. */
export const LIMITS: readonly Limit[] = [
  openLimit('audio', 'containers', 'Any container.', (all) => `Container: ${listed(all)}.`),
  openLimit('audio', 'codings', 'Any coding.', (all) => `Coding: ${listed(all)}.`),
  openLimit('audio', 'sampleRatesHz', 'Any sample rate.', (all) => `Sample rate: ${listed(all)} Hz.`),
  openLimit('audio', 'bitDepths', 'Any bit depth.', (all) => `Bit depth: ${listed(all)} bit.`),
  openLimit('audio', 'channels', 'Any number of channels.', (all) => `Channels: ${listed(all)}.`),
  openLimit('audio', 'header', 'Any header.', (header) =>
    header === 'plain'
      ? 'Header: plain, 44 bytes, nothing but the format before the samples.'
      : 'Header: other chunks may stand before the samples.',
  ),
  openLimit('audio', 'longestSeconds', 'Sounds of any length.', (most) => `Longest sound: ${most} s.`),
  openLimit(
    'audio',
    'largestBytes',
    'Sound files of any size.',
    (most) => `Largest sound file: ${inBytes(most)}.`,
  ),
  openLimit('audio', 'oneRateInFont', 'Sample rates may differ inside a font.', (one) =>
    one ? 'All sounds of a font share one sample rate.' : 'Sample rates may differ inside a font.',
  ),
  openLimit('fonts', 'mostFonts', 'Any number of fonts.', (most) => `At most ${oneOrMore(most, 'font')}.`),
  limit('fonts', 'folderTemplate', '{slot:02}-{name}', (template) => `Folder of a font: ${template}.`),
  limit('fonts', 'firstSlot', 1, (first) => `Fonts are counted from ${first}.`),
  limit('fonts', 'order', 'name', (order) =>
    order === 'name'
      ? 'Fonts play in the order of their names.'
      : 'Fonts play in the order of the directory.',
  ),
  limit('fonts', 'rolesRequired', [], (roles) =>
    roles.length === 0 ? 'No role is required.' : `A font needs ${listed(roles, 'and')}.`,
  ),
  limit('fonts', 'mostSoundsByRole', {}, (most) => {
    const all = Object.entries(most).map(([role, count]) => `${role} ${count}`)
    return all.length === 0
      ? 'Any number of sounds of a role.'
      : `Most sounds of a role: ${listed(all, 'and')}.`
  }),
  openLimit('fonts', 'numbering', 'Sounds may be numbered in any way.', ({ start, withoutGaps }) =>
    withoutGaps
      ? `Sounds of a role are numbered from ${start} without gaps.`
      : `Sounds of a role are numbered from ${start}.`,
  ),
  limit('fonts', 'pairsEqualLength', false, (equal) =>
    equal
      ? 'Layered swings come as pairs, low and high, of equal length.'
      : 'Layers of a swing need not be equally long.',
  ),
  limit('fonts', 'companions', 'font-folder', (place) =>
    place === 'none'
      ? 'Texts and pictures of a font stay off the card.'
      : 'Texts and pictures lie in the folder of their font.',
  ),
  openLimit(
    'fonts',
    'cardWide',
    'Every sound belongs to a font.',
    ({ roles, folder }) =>
      `Sounds for ${listed(roles, 'and')} belong to the card and lie in ${folder === '' ? 'its root' : `the folder ${folder}`}.`,
  ),
  limit('names', 'scheme', 'plain-words', (scheme) => `Names follow the scheme ${scheme}.`),
  limit(
    'names',
    'charset',
    '[^\\u0000-\\u001f"*/:<>?\\\\|]',
    (charset) => `Characters of a name: ${charset}.`,
  ),
  limit('names', 'letterCase', 'any', (letterCase) =>
    letterCase === 'any'
      ? 'Letters of either case.'
      : `${letterCase === 'lower' ? 'Small' : 'Capital'} letters only.`,
  ),
  openLimit(
    'names',
    'longestNameUnits',
    'Names of any length.',
    (most) => `Longest name: ${oneOrMore(most, 'character')}.`,
  ),
  openLimit(
    'names',
    'longestPathUnits',
    'Paths of any length.',
    (most) => `Longest path: ${oneOrMore(most, 'character')}.`,
  ),
  limit('names', 'reserved', [], (names) =>
    names.length === 0
      ? 'The board reserves no name.'
      : `Names that the board keeps to itself: ${listed(names)}.`,
  ),
  limit(
    'card',
    'fileSystems',
    ['fat32'],
    (all) => `File system: ${listed(all.map((each) => each.toUpperCase()))}.`,
  ),
  openLimit('card', 'largestCardBytes', 'Cards of any size.', (most) => `Largest card: ${inBytes(most)}.`),
  limit('card', 'clusterBytes', 32_768, (size) => `Clusters of ${inBytes(size)}.`),
  limit('card', 'partitionTable', 'mbr', () => 'One partition, in an MBR.'),
  limit('card', 'alignmentBytes', 4_194_304, (size) => `Partition and data start at whole ${inBytes(size)}.`),
  limit('card', 'creditsName', 'CREDITS.TXT', (name) => `Credits document: ${name}.`),
  limit('card', 'licencesName', 'LICENCES.CDX.JSON', (name) => `Licence document: ${name}.`),
  limit('card', 'extraFilesInRoot', true, (allowed) =>
    allowed ? 'Other files in the root do no harm.' : 'No other files may lie in the root.',
  ),
  openLimit(
    'card',
    'mostSectorsToOpen',
    'Any number of reads to open a sound.',
    (most) => `At most ${oneOrMore(most, 'sector')} read to open a sound.`,
  ),
  {
    path: 'config',
    whenUnknown: null,
    inWords: ({ config }) => {
      if (config === null) return 'The board reads no config file.'
      const need = config.required ? 'must be on the card' : 'may be on the card'
      const use =
        config.use === 'read-from-card'
          ? 'is read from the card'
          : 'is a copy only: the board keeps its settings inside'
      return `Config file ${config.file}: ${need}, and ${use}.`
    },
  },
  openLimit('levels', 'hum', 'Hums of any level.', band('Level of hums')),
  openLimit('levels', 'effects', 'Effects of any level.', band('Level of effects')),
  openLimit('levels', 'music', 'Music of any level.', band('Level of music')),
  openLimit('levels', 'ceilingDbtp', 'Any true peak.', (ceiling) => `True peak at most ${ceiling} dBTP.`),
  openLimit(
    'levels',
    'mostLimitingDb',
    'Any amount of limiting while preparing.',
    (most) => `Preparing may limit a sound by at most ${most} dB.`,
  ),
  openLimit(
    'levels',
    'spreadLu',
    'Hums of a card may differ.',
    (most) => `Hums of one card differ by at most ${most} LU.`,
  ),
]

export const LIMIT_PATHS = LIMITS.map((each) => each.path) as [string, ...string[]]
