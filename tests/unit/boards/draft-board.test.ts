import { describe, expect, test } from 'vitest'
import { draftBoard } from '../../../app/boards/draft-board.ts'
import { boardInWords } from '../../../app/boards/board-words.ts'
import { readBoard } from '../../../app/boards/read-board.ts'
import { cardNames, cardPath } from '../../../app/boards/card-names.ts'
import { folderNameOf } from '../../../app/boards/folder-name.ts'
import type { Board } from '../../../app/model/board.ts'
import type { ObservedCard, ObservedFile } from '../../../app/model/observed-card.ts'
import { fontLike, judged, type SoundChange } from '../../support/judged-font.ts'
import { sha256Hex, shippedBoard } from '../../support/shipped-boards.ts'
import { shippedScheme, shippedSchemes } from '../../support/shipped-schemes.ts'

function sound(path: string, change: SoundChange = {}): ObservedFile {
  const [made] = fontLike({}, { [path]: { place: null, ...change } }).sounds
  return {
    path,
    sizeBytes: made!.inspection.sizeBytes,
    kind: 'sound',
    inspection: made!.inspection,
    text: null,
  }
}
const other = (path: string): ObservedFile => ({
  path,
  sizeBytes: 9,
  kind: 'companion',
  inspection: null,
  text: null,
})

function drafted(files: readonly ObservedFile[], volume: ObservedCard['volume'] = null): Board {
  const { text } = draftBoard('seen', 'Seen', { files, volume }, shippedSchemes)
  return readBoard(text, 'seen.yaml', { parentOf: () => undefined, sha256Hex })
}

/** The card that a shipped board would get, as it is found afterwards. */
function cardOf(
  board: Board,
  fonts: readonly string[],
  names: readonly string[],
  change: SoundChange,
): ObservedFile[] {
  const scheme = shippedScheme(board.names.scheme)
  const plain = fontLike({}, Object.fromEntries(names.map((name) => [name, {}]))).sounds
  return fonts.flatMap((font, index) =>
    cardNames(plain, [], board, scheme).flatMap((name) => {
      const path = cardPath(board, folderNameOf(board, board.fonts.firstSlot + index, font), name)
      return path === null ? [] : [sound(path, change)]
    }),
  )
}

const NAMES = [
  'hum.wav',
  'clash-01.wav',
  'clash-02.wav',
  'swing-low-01.wav',
  'swing-high-01.wav',
  'ignite-01.wav',
]

describe('a board drafted from a card that plays', () => {
  test.each([
    ['bench-44', { facts: {} }],
    ['bench-32', { facts: { sampleRateHz: 32_000 } }],
    ['bench-48', { facts: { sampleRateHz: 48_000, bitDepth: 24, channels: 2 } }],
  ] as const)('shows what a card for %s shows', (id, change) => {
    const board = shippedBoard(id)
    const draft = drafted(cardOf(board, ['Amber', 'Zinc'], NAMES, change))
    expect(draft.audio.sampleRatesHz).toEqual([
      change.facts && 'sampleRateHz' in change.facts ? change.facts.sampleRateHz : 44_100,
    ])
    expect(draft.names.scheme).toBe(board.names.scheme)
    expect(draft.fonts).toMatchObject({
      folderTemplate: board.fonts.folderTemplate,
      mostFonts: 2,
      pairsEqualLength: true,
    })
    if (board.fonts.folderTemplate.includes('slot')) expect(draft.fonts.firstSlot).toBe(board.fonts.firstSlot)
    expect(draft.fonts.numbering).toEqual(board.fonts.numbering)
    expect(draft.names.letterCase === 'any' || draft.names.letterCase === board.names.letterCase).toBe(true)
  })

  test('marks all of it as seen playing, and leaves the rest unknown', () => {
    const board = drafted([sound('01-amber/hum.wav'), sound('02-zinc/hum.wav')])
    const words = boardInWords(board)
    expect(new Set(words.map((each) => each.known))).toEqual(new Set(['seen playing', 'unknown']))
    expect(words.find((each) => each.limit === 'audio.sampleRatesHz')?.known).toBe('seen playing')
    expect(words.find((each) => each.limit === 'fonts.rolesRequired')?.known).toBe('unknown')
  })

  test('takes the very sounds that it was drafted from', () => {
    const paths = ['hum.wav', 'clash-01.wav', 'ignite-01.wav']
    const board = drafted(paths.map((path) => sound(`01-amber/${path}`)))
    const { findings } = judged(
      fontLike({ name: 'Amber' }, Object.fromEntries(paths.map((path) => [path, {}]))),
      board,
    )
    expect(findings).toEqual([])
  })

  test('tells a header that is not plain, and a volume that is known', () => {
    const chunks = [
      { id: 'fmt ', offset: 12, sizeBytes: 16 },
      { id: 'note', offset: 36, sizeBytes: 4 },
      { id: 'data', offset: 48, sizeBytes: 4 },
    ]
    const volume = {
      fileSystem: 'fat16',
      clusterBytes: 32_768,
      sizeBytes: 1_000_000_000,
      partitionTable: 'mbr',
      alignmentBytes: 1_048_576,
    } as const
    const board = drafted([sound('A/hum.wav', { facts: { chunks } }), other('settings.txt')], volume)
    expect(board.audio.header).toBe('any')
    expect(board.card).toMatchObject({ fileSystems: ['fat16'], clusterBytes: 32_768, extraFilesInRoot: true })
  })

  test('sees the folder of sounds that belong to the whole card', () => {
    const board = drafted([
      sound('00_A/HUM00.WAV'),
      sound('00_A/CLASH00.WAV'),
      sound('SYSTEM/BOOT00.WAV'),
      sound('SYSTEM/CELL00.WAV'),
    ])
    expect(board.fonts.cardWide).toEqual({ roles: ['boot', 'low-cell'], folder: 'SYSTEM' })
    expect(board.fonts.mostFonts).toBe(1)
  })

  test('of names that no scheme reads still tells folders, characters and lengths', () => {
    const board = drafted([sound('X/Öde 1.wav'), sound('Y/b.wav')])
    expect(board.names.charset).toBe('[a-zA-Z0-9 .Ö]')
    expect(board.known['names.scheme']).toBe('unknown')
    expect(board.fonts.mostFonts).toBe(2)
  })

  test.each([
    [['A', 'B'], '{name}'],
    [['1', '2', '3'], '{slot}'],
    [['01 Amber', '02 Zinc'], '{slot:02} {name}'],
    [['01-Amber', '03-Zinc'], '{name}'],
    [['9x', '10x'], '{slot}{name}'],
  ])('of folders %j makes the template %s', (folders, template) => {
    expect(drafted(folders.map((folder) => sound(`${folder}/hum.wav`))).fonts.folderTemplate).toBe(template)
  })

  test.each([[['plain/]x^-\\.wav']], [['a/__proto__.wav']], [['hum.wav']]])(
    'of odd names %j is a board that can be read',
    (paths) => {
      expect(drafted(paths.map((path) => sound(path))).id).toBe('seen')
    },
  )
})
