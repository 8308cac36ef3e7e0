import { describe, expect, test } from 'vitest'
import type { ObservedFile } from '../../../app/model/observed-card.ts'
import { checkCard } from '../../../app/usecases/check-card.ts'
import { fontLike, type SoundChange } from '../../support/judged-font.ts'
import { shippedBoard, shippedBoardText } from '../../support/shipped-boards.ts'
import { shippedScheme } from '../../support/shipped-schemes.ts'

const quiet = {
  onProgress: () => undefined,
  cancel: { aborted: false, addEventListener: () => undefined, removeEventListener: () => undefined },
}

function sound(path: string, change: SoundChange = {}): ObservedFile {
  const [made] = fontLike({}, { [path]: { place: null, sampleHash: path, ...change } }).sounds
  return { path, sizeBytes: 88_244, kind: 'sound', inspection: made!.inspection, text: null }
}
const file = (path: string, kind: ObservedFile['kind'], text: string | null = null): ObservedFile => ({
  path,
  sizeBytes: 10,
  kind,
  inspection: null,
  text,
})

async function checked(boardId: string, files: readonly ObservedFile[]) {
  const board = shippedBoard(boardId)
  const ports = {
    getBoard: () =>
      Promise.resolve({ board, text: shippedBoardText(boardId), scheme: shippedScheme(board.names.scheme) }),
    observer: { observe: () => Promise.resolve({ files, volume: null }), inspect: () => Promise.resolve([]) },
    pages: {
      requirePlaceOfPage: () => Promise.resolve(),
      writePage: (path: string, text: string) => {
        pages.push([path, text])
        return Promise.resolve()
      },
    },
    toolVersion: '1.2.3',
  }
  const pages: [string, string][] = []
  const report = await checkCard({ from: '/card', boardId, reportPath: '/out/page.html' }, ports, quiet)
  // The page tells the same of each font, and nothing of where the card lies.
  expect(pages.map(([path]) => path)).toEqual(['/out/page.html'])
  for (const { folder, findings } of report.fonts) {
    expect(pages[0]?.[1]).toContain(`<h2>${folder}</h2>`)
    expect(pages[0]?.[1].match(/<tr><td class=/g)?.length ?? 0).toBeGreaterThanOrEqual(findings.length)
  }
  expect(pages[0]?.[1]).not.toContain('/card')
  const told = (finding: { severity: string; rule: string; path: string | null }) =>
    `${finding.severity} ${finding.rule} ${finding.path ?? '-'}`
  return {
    fonts: report.fonts.map((font) => [font.folder, font.verdict.word, font.findings.map(told)] as const),
    card: report.cardFindings.map(told),
  }
}

const NAMES = ['hum.wav', 'ignite-01.wav', 'retract-01.wav', 'swing-01.wav', 'clash-01.wav']
const whole = (folder: string, change: SoundChange = {}) =>
  NAMES.map((name) => sound(`${folder}/${name}`, change))

describe('a card as it lies there', () => {
  test('is ready where the board plays it', async () => {
    const report = await checked('bench-44', [...whole('01-amber'), file('CREDITS.TXT', 'companion')])
    expect(report).toEqual({ fonts: [['01-amber', 'ready', []]], card: [] })
  })

  test('is judged by the names that it has: nothing renames them any more', async () => {
    const { fonts } = await checked('bench-44', [
      ...whole('01 Amber'),
      sound('01 Amber/klang.wav'),
      sound('01 Amber/swing-03.wav'),
      file('01 Amber/._hum.wav', 'litter'),
    ])
    expect(fonts).toEqual([
      [
        '01 Amber',
        'blocked',
        [
          'error name-case -',
          'error name-charset -',
          'error scheme-name klang.wav',
          'warning litter ._hum.wav',
          'warning unknown-sound klang.wav',
          'warning number-gap swing-03.wav',
        ],
      ],
    ])
  })

  test('whose names the board does not know at all says so of each', async () => {
    const { fonts } = await checked('bench-44', [sound('a/thud.wav'), sound('a/thump.wav')])
    expect(fonts).toEqual([
      ['a', 'unrecognised', ['error scheme-name thud.wav', 'error scheme-name thump.wav']],
    ])
  })

  test('counts no font for the sounds of the whole card, and tells an order that differs', async () => {
    const at32k = { facts: { sampleRateHz: 32_000 } }
    const font = (folder: string) =>
      ['HUM00.WAV', 'IGN00.WAV', 'RET00.WAV', 'CLASH00.WAV'].map((name) => sound(`${folder}/${name}`, at32k))
    const report = await checked('bench-32', [
      ...font('01_ZINC'),
      ...font('00_AMBER'),
      sound('SYSTEM/BOOT00.WAV', at32k),
    ])
    expect(report.fonts.map(([folder, word]) => [folder, word])).toEqual([
      ['01_ZINC', 'ready'],
      ['00_AMBER', 'ready'],
    ])
    expect(report.card).toEqual(['warning folder-order -'])
  })

  test('reads the config that lies on it', async () => {
    const at48k = { facts: { sampleRateHz: 48_000 } }
    const takes = ['hum', 'ignite', 'retract'].map((role) => sound(`Amber/${role}/take-1.wav`, at48k))
    const withConfig = (text: string) =>
      checked('bench-48', [...takes, file('Bench.conf', 'companion', text)])
    expect((await withConfig('font = Amber')).card).toEqual([])
    expect((await withConfig('font = Zinc')).card).toEqual([
      'error config-folder-absent Bench.conf',
      'warning config-folder-unnamed Bench.conf',
    ])
    expect((await checked('bench-48', takes)).card).toEqual(['error config-missing bench.conf'])
  })

  test('without a sound in any folder is refused', async () => {
    await expect(checked('bench-44', [sound('hum.wav')])).rejects.toMatchObject({ code: 'check/no-sounds' })
  })
})
