import { describe, expect, test } from 'vitest'
import type { FontOnCard } from '../../../../app/boards/rules/card-look.ts'
import { folderNameOf } from '../../../../app/boards/folder-name.ts'
import type { Board } from '../../../../app/model/board.ts'
import type { Sound } from '../../../../app/model/sound.ts'
import { levelOfSound } from '../../../../app/usecases/judging.ts'
import { boardLikeBench44, shippedBoard } from '../../../support/shipped-boards.ts'
import { fontLike, foundBy, judgedCard } from '../../../support/judged-font.ts'

const bench48 = shippedBoard('bench-48')

function fontsNamed(
  names: readonly string[],
  board: Board = shippedBoard('bench-44'),
  humLufs: readonly number[] = [],
): FontOnCard[] {
  return names.map((name, index) => {
    const slot = board.fonts.firstSlot + index
    const levels = { integratedLufs: humLufs[index] ?? -22 }
    return {
      slot,
      folder: folderNameOf(board, slot, name),
      edition: fontLike({ name, sounds: { 'hum.wav': { levels } } }),
    }
  })
}

const config = (...lines: string[]) => ({ fileName: 'bench.conf', text: `# fonts\r\n${lines.join('\n')}\n` })

describe('too-many-fonts', () => {
  test('says how many are too many', () => {
    const names = Array.from({ length: 13 }, (_, index) => `Font ${index}`)
    expect(foundBy('too-many-fonts', judgedCard({ fonts: fontsNamed(names) }))).toEqual([
      '(font): The card has 13 fonts; the board takes at most 12.',
    ])
    expect(foundBy('too-many-fonts', judgedCard({ fonts: fontsNamed(names.slice(1)) }))).toEqual([])
  })
})

describe('folder-order', () => {
  test('says where names without a number will play in another order', () => {
    const fonts = fontsNamed(['Zinc', 'Amber'], bench48)
    expect(foundBy('folder-order', judgedCard({ board: bench48, fonts }))).toEqual([
      '(font): The board counts fonts by name: Amber and Zinc, and not Zinc and Amber.',
    ])
  })

  test('says nothing where the folders carry their number', () => {
    expect(foundBy('folder-order', judgedCard({ fonts: fontsNamed(['Zinc', 'Amber']) }))).toEqual([])
  })

  test('on a card as found says where its directory has another order than its names', () => {
    const board = shippedBoard('bench-32')
    const fonts = fontsNamed(['Amber', 'Zinc'], board)
    const context = { levelOf: levelOfSound, speakerLowLimitHz: null, inPlace: true }
    const directoryOrder = ['01_ZINC', '00_AMBER']
    expect(foundBy('folder-order', judgedCard({ board, fonts, context, directoryOrder }))).toEqual([
      '(font): The board counts fonts by directory entry: 01_ZINC and 00_AMBER, and not 00_AMBER and 01_ZINC.',
    ])
  })

  test('judges nothing where nobody knows how the board counts', () => {
    const board = boardLikeBench44('fonts: { folderTemplate: "{name}" }\nknown: { fonts.order: unknown }\n')
    expect(
      foundBy('folder-order', judgedCard({ board, fonts: fontsNamed(['Zinc', 'Amber'], board) })),
    ).toEqual([])
  })
})

describe('card-level-spread', () => {
  test.each([
    [[-21, -22], []],
    [
      [-20.4, -22],
      [
        '(font): The hum of Zinc is 1.6 LU quieter than that of Amber (-22 and -20.4 LUFS, measured without a speaker); the board allows 1 LU.',
      ],
    ],
  ])('for hums of %j LUFS', (levels, says) => {
    const fonts = fontsNamed(['Amber', 'Zinc'], undefined, levels)
    expect(foundBy('card-level-spread', judgedCard({ fonts }))).toEqual(says)
  })

  test('goes by what the speaker gives, where that was measured', () => {
    const fonts = fontsNamed(['Amber', 'Zinc'], undefined, [-22, -22])
    const heard: Record<string, number> = { Amber: -24, Zinc: -30 }
    const context = {
      levelOf: levelOfSound,
      throughSpeakerLevelOf: (sound: { inspection: { sha256: string } }) =>
        heard[
          fonts.find(({ edition }) => edition.sounds.some((each) => each === sound))?.edition.font.name ?? ''
        ] ?? null,
      speakerLowLimitHz: 350,
      inPlace: false,
    }
    expect(foundBy('card-level-spread', judgedCard({ fonts, context }))).toEqual([
      '(font): The hum of Zinc is 6 LU quieter than that of Amber (-30 and -24 LUFS, as heard through a speaker from 350 Hz); the board allows 1 LU.',
    ])
  })
})

test('one hum that could not be heard through the speaker makes all be compared without it', () => {
  const fonts = fontsNamed(['Amber', 'Zinc'], undefined, [-20, -22])
  const heard = new Set(fonts[0]?.edition.sounds)
  const context = {
    levelOf: levelOfSound,
    throughSpeakerLevelOf: (sound: Sound) => (heard.has(sound) ? -40 : null),
    speakerLowLimitHz: 350,
    inPlace: false,
  }
  expect(foundBy('card-level-spread', judgedCard({ fonts, context }))).toEqual([
    '(font): The hum of Zinc is 2 LU quieter than that of Amber (-22 and -20 LUFS, measured without the speaker, through which it could not be heard); the board allows 1 LU.',
  ])
})

describe('a config that the board reads from the card', () => {
  const fonts = fontsNamed(['Amber', 'Zinc'], bench48)
  const found = (text: ReturnType<typeof config> | null): string[] =>
    judgedCard({ board: bench48, fonts, config: text })
      .filter((each) => each.rule.startsWith('config-'))
      .map((each) => `${each.rule}: ${each.message}`)

  test.each([
    ['is missing', null, ['config-missing: The config file bench.conf is missing; the board needs it.']],
    ['names what is there, in any case', config('font = AMBER', 'font=Zinc'), []],
    [
      'names a folder that is absent',
      config('font = Amber', 'font = Zinc', 'font = Copper'),
      ['config-folder-absent: It names the folder "Copper", and the card has none of that name.'],
    ],
    [
      'leaves a font out',
      config('font = Amber'),
      ['config-folder-unnamed: It does not name the folder "Zinc" of Zinc.'],
    ],
    [
      'has another order',
      config('font = Zinc', 'font = Amber'),
      ['config-order: It names the fonts in the order Zinc and Amber; the card has Amber and Zinc.'],
    ],
    [
      'has a line too long to be a setting',
      config(`font = ${'x'.repeat(3000)}`, 'font = Amber', 'font = Zinc'),
      [],
    ],
  ])('and that %s', (_what, text, says) => expect(found(text)).toEqual(says))
})

describe('a config that is a copy only', () => {
  const fonts = fontsNamed(['Amber', 'Zinc'])
  const found = (...lines: string[]): readonly string[] =>
    judgedCard({ fonts, config: config(...lines) }).map((each) => `${each.severity} ${each.rule}`)

  test('that names other fonts is worth a note', () => {
    expect(found('font 01-copper')).toEqual(['note config-copy-differs'])
  })

  test('that names the same fonts, or none, is fine', () => {
    expect(found('font 01-amber', 'font 02-zinc')).toEqual([])
    expect(found('volume 11')).toEqual([])
  })
})
