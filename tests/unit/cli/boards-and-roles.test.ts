import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { parse } from 'yaml'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { documents } from '../../../app/contract/documents.ts'
import { toldRole } from '../../../main/cli/roles-command.ts'
import { demoScenario, demoWorkshop } from '../../support/demo-workshop.ts'
import { demoFilesOf } from '../../../app/usecases/demo/demo-files.ts'
import { runCli, toldLines } from '../../support/run-cli.ts'

const demo = demoWorkshop()
const cli = (...args: string[]) => runCli([...args, '--workshop', demo.folder], { cwd: demo.base })
async function json<T>(...args: string[]): Promise<T> {
  const run = await cli(...args, '--json')
  return JSON.parse(run.stdout) as T
}

describe('boards', () => {
  test('are listed, shown in words, and compared', async () => {
    expect((await cli('boards', 'list')).stdout).toContain('bench-44')
    expect((await cli('boards', 'show', 'bench-44')).stdout).toContain('Sample rate: 44100 Hz.')
    const diff = documents['boards-diff'].parse(await json('boards', 'diff', 'bench-44', 'bench-32'))
    expect(diff.differences.map((each) => each.limit)).toContain('card.fileSystems')
  })

  test('a new one extends another, is used at once, and is never written over', async () => {
    const made = documents['boards-new'].parse(await json('boards', 'new', 'mine', '--extends', 'bench-44'))
    expect(made.board).toMatchObject({ id: 'mine', source: 'workshop' })
    writeFileSync(made.path, `${made.text}audio: { channels: [1, 2] }\n`)
    const list = await json<ResponseOf<'fonts:list'>>('fonts', 'list', '--board', 'mine')
    expect(list.fonts.find((font) => font.font.name === 'Thornwick')?.verdict?.errorCount).toBe(3)
    const again = await cli('boards', 'new', 'mine')
    expect(again.code).toBe(2)
    expect(toldLines(again)).toHaveLength(1)
  })

  test('a file with a fault is told with line and column, and exits with 2', async () => {
    writeFileSync(join(demo.base, 'odd.yaml'), 'board: { id: odd, title: Odd }\naudio: { chanels: [1] }\n')
    const run = await cli('boards', 'test', 'odd.yaml')
    expect(run.code).toBe(2)
    expect(run.stdout).toContain(
      'odd.yaml, line 2, column 10: "chanels" is not known here. Did you mean "channels"?',
    )
    expect(documents['boards-test'].parse(await json('boards', 'test', 'odd.yaml')).board).toBeNull()
    expect((await cli('boards', 'test', 'absent.yaml')).code).toBe(2)
  })

  test('one is kept from a file, and a faulty or shipped one is refused without a trace', async () => {
    const made = documents['boards-new'].parse(await json('boards', 'new', 'saved', '--extends', 'bench-44'))
    const file = join(demo.base, 'saved-later.yaml')
    const text = `${made.text}audio: { channels: [1, 2] }\n`
    writeFileSync(file, text)
    const kept = documents['boards-save'].parse(await json('boards', 'save', 'saved', 'saved-later.yaml'))
    expect(kept).toMatchObject({ text, path: made.path })
    expect(readFileSync(made.path, 'utf8')).toBe(text)
    writeFileSync(file, `${text}adio: {}\n`)
    const faulty = await cli('boards', 'save', 'saved', 'saved-later.yaml')
    expect(faulty.code).toBe(2)
    expect(toldLines(faulty)[0]).toMatch(
      /saved-later\.yaml, line \d+, column 1: "adio" is not known here\. Did/,
    )
    expect(readFileSync(made.path, 'utf8')).toBe(text)
    writeFileSync(file, text)
    expect((await cli('boards', 'save', 'bench-44', 'saved-later.yaml')).code).toBe(2)
    expect((await cli('boards', 'save', 'another', 'saved-later.yaml')).code).toBe(2)
  })

  test('is shown and compared as it was when a card was made with it', async () => {
    const made = documents['boards-new'].parse(await json('boards', 'new', 'aged', '--extends', 'bench-44'))
    const image = ['make', 'Harbour Bell', '--board', 'aged', '--image', 'aged.img']
    const { fingerprint } = documents.make.parse(await json(...image))
    writeFileSync(made.path, `${made.text}levels: { ceilingDbtp: -3 }\n`)
    const { versions } = documents['boards-versions'].parse(await json('boards', 'versions', 'aged'))
    expect(versions).toMatchObject([
      { hash: made.board.hash, isCurrent: false, cards: [{ fingerprint, build: null }] },
    ])
    for (const word of [
      made.board.hash,
      made.board.hash.slice(0, 8),
      fingerprint,
      fingerprint.toLowerCase(),
    ]) {
      const { board, text } = documents['boards-show'].parse(await json('boards', 'show', word))
      expect(board).toMatchObject({ id: 'aged', source: 'kept', hash: made.board.hash })
      expect(text).not.toContain('extends')
    }
    const diff = documents['boards-diff'].parse(await json('boards', 'diff', fingerprint, 'aged'))
    expect(diff.differences.map(({ limit }) => limit)).toEqual(['levels.ceilingDbtp'])
    expect((await cli('boards', 'diff', fingerprint, 'aged')).stdout).toContain(`aged as of ${fingerprint}`)
    expect((await cli('boards', 'show', made.board.hash.slice(0, 7))).code).toBe(2)
  })

  test('tell their rules with what each changes of them', async () => {
    const all = documents['boards-rules'].parse(await json('boards', 'rules'))
    expect(all.rules.find(({ rule }) => rule === 'name-case')).toMatchObject({
      severity: 'note',
      inPlace: 'error',
      change: null,
    })
    writeFileSync(
      join(demo.folder, 'boards', 'lenient.yaml'),
      'board: { id: lenient, title: Lenient }\nextends: bench-44\nrules: { clipped: { severity: off, reason: it is meant } }\n',
    )
    const changed = documents['boards-rules'].parse(await json('boards', 'rules', 'lenient'))
    expect(changed.rules.filter(({ change }) => change !== null)).toMatchObject([
      { rule: 'clipped', change: { severity: 'off', reason: 'it is meant' } },
    ])
    expect((await cli('boards', 'show', 'lenient')).stdout).toContain('  clipped switched off: it is meant')
    expect((await cli('boards', 'rules', 'lenient')).stdout).toMatch(/clipped .*off on lenient: it is meant/)
  })

  test.each([['../../etc'], ['Mine'], ['bench-44'], ['a b'], ['aux']])(
    'no board is made with the id %s',
    async (id) => {
      const run = await cli('boards', 'new', id)
      expect(run.code).toBe(2)
      expect(toldLines(run)).toHaveLength(1)
    },
  )

  test('one is drafted from a folder that lies as a card does', async () => {
    const card = join(demo.base, 'card', '01-bell')
    mkdirSync(card, { recursive: true })
    for (const file of demoFilesOf(demoScenario, demoScenario.fonts[0]!).slice(0, 8))
      writeFileSync(join(card, file.path), file.contents())
    const drafted = documents['boards-draft'].parse(
      await json('boards', 'draft', '--from', 'card', '--id', 'seen', '--keep'),
    )
    expect(drafted).toMatchObject({
      fontFolders: ['01-bell'],
      path: join(demo.folder, 'boards', 'seen.yaml'),
    })
    expect(readFileSync(drafted.path ?? '', 'utf8')).toBe(drafted.text)
    expect((await cli('boards', 'draft', '--from', 'nowhere')).code).toBe(2)
  })
})

describe('the image of a card', () => {
  test('drafts a board with all it shows marked as seen playing, and is checked as it lies there', async () => {
    expect((await cli('make', 'Harbour Bell', '--board', 'bench-44', '--image', 'plays.img')).code).toBe(0)
    const drafted = documents['boards-draft'].parse(
      await json('boards', 'draft', '--from', 'plays.img', '--id', 'imaged', '--keep'),
    )
    const board = parse(drafted.text) as { card: object; known: Record<string, string> }
    expect(board.card).toMatchObject({
      fileSystems: ['fat32'],
      clusterBytes: 4096,
      partitionTable: 'mbr',
    })
    for (const limit of ['card.partitionTable', 'card.alignmentBytes', 'audio.sampleRatesHz'])
      expect(board.known[limit]).toBe('seen playing')
    const run = await cli('check', 'plays.img', '--board', 'imaged', '--json')
    const report = documents['check-card'].parse(JSON.parse(run.stdout))
    expect(report.fonts.map((font) => [font.soundCount, font.verdict.errorCount])).toEqual([
      [drafted.soundCount, 0],
    ])
    expect((await cli('make', 'Harbour Bell', '--board', 'imaged', '--image', 'again.img')).code).toBe(0)
  })

  test('that is damaged is told in one sentence', async () => {
    writeFileSync(join(demo.base, 'odd.img'), 'no card')
    for (const words of [
      ['check', 'odd.img'],
      ['boards', 'draft', '--from', 'odd.img'],
    ]) {
      const run = await cli(...words)
      expect(run.code).toBe(2)
      expect(toldLines(run)).toHaveLength(1)
    }
  })
})

describe('a board that learns', () => {
  test('moves its limits by what was heard and what stayed silent, and a shipped one never does', async () => {
    await cli('boards', 'new', 'pupil', '--extends', 'bench-44')
    const sounds = join(demo.folder, 'demo-fonts', 'Kolmarra', 'Thornwick v3')
    const heard = ['--heard', join(sounds, 'hum.wav'), '--silent', join(sounds, 'boot.wav')]
    const learned = documents['boards-learn'].parse(await json('boards', 'learn', 'pupil', ...heard))
    expect(learned.moves.map((move) => [move.limit, move.known])).toContainEqual([
      'audio.bitDepths',
      'seen failing',
    ])
    expect(learned.board.known['audio.bitDepths']).toBe('seen failing')
    expect((await cli('boards', 'learn', 'bench-44', ...heard)).code).toBe(2)
    expect((await cli('boards', 'learn', 'pupil', '--heard', 'absent.wav')).code).toBe(2)
  })
})

describe('schemes', () => {
  test('are listed and shown by examples', async () => {
    expect(
      documents['schemes-list'].parse(await json('schemes', 'list')).schemes.map((each) => each.id),
    ).toContain('plain-words')
    expect((await cli('schemes', 'show', 'short-words')).stdout).toContain('hum.wav')
    expect((await cli('schemes', 'show', 'nothing')).code).toBe(2)
  })
})

describe('roles of a font that no scheme reads', () => {
  const names: Readonly<Record<string, string>> = {
    'hum.wav': 'Drone Hum.wav',
    'clash-01.wav': 'Clsh 1.wav',
    'clash-02.wav': 'Clsh 2.wav',
    'ignite-01.wav': 'Ign 1.wav',
    'retract-01.wav': 'Retr 1.wav',
    'swing-low-01.wav': 'SwngLo 1.wav',
    'swing-high-01.wav': 'SwngHi 1.wav',
    'boot.wav': 'hello.wav',
  }

  test('are guessed, confirmed, made a scheme, and taken back', async () => {
    const folder = join(demo.base, 'more', 'North Yard')
    mkdirSync(folder, { recursive: true })
    for (const file of demoFilesOf(demoScenario, demoScenario.fonts[0]!)) {
      const name = names[file.path]
      if (name !== undefined) writeFileSync(join(folder, name), file.contents())
    }
    await cli('scan', 'more')
    const before = await cli('roles', 'North Yard')
    expect(before.code).toBe(1)
    expect(before.stdout).toContain('0 roles known, 7 guessed, 1 to ask')

    const told = documents.roles.parse(
      await json('roles', 'North Yard', '--confirm', '--set', 'hello.wav=boot', '--keep-scheme', 'north'),
    )
    expect(told).toMatchObject({
      knownCount: 8,
      askCount: 0,
      scheme: { scheme: { id: 'north', source: 'workshop' } },
    })
    expect((await cli('check', 'North Yard', '--board', 'bench-44')).code).toBe(0)
    await cli('scan', 'more')
    expect((await json<ResponseOf<'roles:show'>>('roles', 'North Yard')).knownCount).toBe(8)

    const forgotten = documents.roles.parse(await json('roles', 'North Yard', '--forget'))
    expect(new Set(forgotten.sounds.map((sound) => sound.roleSource))).toEqual(new Set(['scheme']))
  })

  test.each([
    ['x=clsh', 'Did you mean "clash"?'],
    ['x', 'Write a sound'],
    ['absent.wav=clash', '`roles FONT`'],
  ])('%s is refused', async (word, mend) => {
    const run = await cli('roles', 'Thornwick', '--set', word)
    expect(run.code).toBe(2)
    expect(run.stderr).toContain(mend)
  })
})

test.each([
  ['a.wav=clash:2', { path: 'a.wav', place: { role: 'clash', part: 'body', layer: null, number: 2 } }],
  [
    'a=b.wav=swing/low:1',
    { path: 'a=b.wav', place: { role: 'swing', part: 'body', layer: 'low', number: 1 } },
  ],
  ['a.wav=low-cell', { path: 'a.wav', place: { role: 'low-cell', part: 'body', layer: null, number: null } }],
  [
    'a.wav=lockup/begin',
    { path: 'a.wav', place: { role: 'lockup', part: 'begin', layer: null, number: null } },
  ],
  ['a.wav=none', { path: 'a.wav', place: null }],
])('%s tells a role', (word, told) => expect(toldRole(word)).toEqual(told))

describe('translate', () => {
  test('shows old and new names, and renames nothing', async () => {
    const names = documents.translate.parse(await json('translate', 'Glass Meridian', '--board', 'bench-32'))
    expect(names.names[0]).toMatchObject({
      from: 'hum/take-1.wav',
      to: '00_GLASS_MER/HUM00.WAV',
      isRenamed: true,
    })
    expect((await cli('translate', 'Glass Meridian', '--board', 'bench-48')).code).toBe(0)
  })
})

describe('a check', () => {
  test('finds every fault that was planted in the demo', async () => {
    const report = await json<ResponseOf<'check'>>('check', '--board', demoScenario.boardId)
    for (const { font, path, rule, plant } of demoScenario.faults) {
      const found =
        report.fonts.find((each) => each.font === font)?.findings.filter((each) => each.rule === rule) ?? []
      const isThere =
        path === null || plant.leftOut === true ? found.length > 0 : found.some((each) => each.path === path)
      expect(isThere, `${font} ${path ?? ''}: ${rule}`).toBe(true)
    }
  })

  test('of a build weighs its rules as the build does, and its card keeps why', async () => {
    const change = (...words: string[]) => cli('builds', 'set', 'EX-103', ...words)
    for (const words of [
      ['--rule', 'levle=off', '--reason', 'x'],
      ['--rule', 'level=of', '--reason', 'x'],
      ['--rule', 'level=off'],
      ['--rule', 'level=off', '--reason', ' '],
      ['--rule', 'level='],
      ['--reason', 'x'],
    ]) {
      const refused = await change(...words)
      expect(refused.code, words.join(' ')).toBe(2)
      expect(toldLines(refused)).toHaveLength(1)
    }
    const told = ['--rule', 'clipped=off', '--rule', 'true-peak=error', '--reason', 'its amplifier is weak']
    expect((await change(...told)).stdout).toContain('clipped switched off: its amplifier is weak')
    const report = documents.check.parse(await json('check', '--build', 'EX-103'))
    const anvil = report.fonts.find(({ font }) => font === 'Ninth Anvil')
    expect(anvil?.findings.filter(({ rule }) => rule === 'true-peak' || rule === 'clipped')).toMatchObject([
      { rule: 'true-peak', severity: 'error', why: expect.stringMatching(/its amplifier is weak\.$/) },
      { rule: 'clipped', severity: 'note', path: null, why: 'The reason given: its amplifier is weak.' },
    ])
    expect((await cli('check', '--build', 'EX-103')).stdout).toContain(
      'Weighed as error by the build: its amplifier',
    )
    // What the build calls an error stands in the way of its card, and of no other.
    expect((await cli('make', '--build', 'EX-103', '--image', 'weak.img')).code).toBe(1)
    await change('--rule', 'true-peak=note', '--reason', 'heard, and fine')
    const made = documents.make.parse(await json('make', '--build', 'EX-103', '--image', 'weak.img'))
    const shown = documents['cards-show'].parse(await json('cards', 'show', made.fingerprint))
    expect(shown.ruleChanges).toEqual([
      { rule: 'clipped', severity: 'off', reason: 'its amplifier is weak' },
      { rule: 'true-peak', severity: 'note', reason: 'heard, and fine' },
    ])
    expect((await change('--rule', 'clipped=', '--rule', 'true-peak=')).stdout).not.toContain('rule ')
  })

  test('writes a page for the creator that names no client and no path of this computer', async () => {
    const run = await cli('check', 'Thornwick', '--board', 'bench-44', '--report', 'thornwick.html')
    expect(run.code).toBe(1)
    const html = readFileSync(join(demo.base, 'thornwick.html'), 'utf8')
    expect(html).toContain('Thornwick')
    expect(html).not.toContain(demo.base)
    for (const build of demoScenario.builds) expect(html).not.toContain(build.clientLabel)
  })
})
