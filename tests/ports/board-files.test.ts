import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { newBoardText } from '../../app/boards/board-text.ts'
import { loadBoards } from '../../main/adapters/files/board-files.ts'
import { loadSchemes } from '../../main/adapters/files/scheme-files.ts'
import { workshopTexts } from '../../main/adapters/files/workshop-texts.ts'

let workshop = ''
beforeEach(() => {
  workshop = mkdtempSync(join(tmpdir(), 'boards-'))
  mkdirSync(join(workshop, 'boards'))
  mkdirSync(join(workshop, 'schemes'))
})
afterEach(() => rmSync(workshop, { recursive: true, force: true }))

const boardNamed = (id: string, more = ''): string => `board: { id: ${id}, title: ${id} }\n${more}`

function keep(name: string, text: string): void {
  writeFileSync(join(workshop, name), text)
}

test('without a workshop the three shipped boards and schemes are there', async () => {
  const { boards, problems } = await loadBoards(null)
  expect(boards.map(({ board, source }) => [board.id, source])).toEqual([
    ['bench-32', 'shipped'],
    ['bench-44', 'shipped'],
    ['bench-48', 'shipped'],
  ])
  const schemes = await loadSchemes(null)
  expect(schemes.schemes.map(({ scheme }) => scheme.id)).toEqual([
    'plain-words',
    'role-folders',
    'short-words',
  ])
  expect([...problems, ...schemes.problems]).toEqual([])
})

test("a workshop's own board may extend one that is read later", async () => {
  keep('boards/a.yaml', boardNamed('a', 'extends: b\n'))
  keep('boards/b.yaml', boardNamed('b', 'extends: bench-44\naudio: { channels: [1, 2] }\n'))
  const { boards, problems } = await loadBoards(workshop)
  expect(problems).toEqual([])
  const a = boards.find(({ board }) => board.id === 'a')
  expect(a).toMatchObject({
    source: 'workshop',
    board: { audio: { channels: [1, 2], sampleRatesHz: [44_100] } },
  })
})

test.each([
  [
    'an unknown key',
    'broken.yaml',
    boardNamed('broken', 'adio: {}\n'),
    'board/invalid',
    /broken\.yaml, line 2, column 1/,
  ],
  ['a taken id', 'again.yaml', boardNamed('bench-44'), 'board/id-taken', /again\.yaml/],
  ['a circle', 'round.yaml', boardNamed('round', 'extends: round\n'), 'board/invalid', /round\.yaml, line 2/],
])(
  'a board file with %s is told, and the other boards stay usable',
  async (_why, name, text, code, where) => {
    keep(`boards/${name}`, text)
    keep('boards/good.yaml', boardNamed('good'))
    const { boards, problems } = await loadBoards(workshop)
    expect(boards.map(({ board }) => board.id)).toEqual(['bench-32', 'bench-44', 'bench-48', 'good'])
    expect(problems).toHaveLength(1)
    expect(problems[0]).toMatchObject({ code, kind: 'input', where: expect.stringMatching(where) as string })
  },
)

test('boards that extend one another in a circle are told, each', async () => {
  keep('boards/a.yaml', boardNamed('a', 'extends: b\n'))
  keep('boards/b.yaml', boardNamed('b', 'extends: a\n'))
  const { problems } = await loadBoards(workshop)
  expect(problems.map(({ code }) => code)).toEqual(['board/invalid', 'board/invalid'])
})

test('a broken or clashing scheme is told, and the others stay usable', async () => {
  keep('schemes/a.yaml', 'scheme: { id: own, title: Own }\ntemplates: ["{role}_{n}.wav"]\n')
  keep('schemes/b.yaml', 'scheme: { id: plain-words, title: Again }\ntemplates: ["{role}.wav"]\n')
  keep(
    'schemes/c.yaml',
    'scheme: { id: clash, title: C }\nwords: { roles: { hum: x, swing: x } }\ntemplates: ["{role}.wav"]\n',
  )
  const { schemes, problems } = await loadSchemes(workshop)
  expect(schemes.map(({ scheme }) => scheme.id)).toEqual([
    'plain-words',
    'role-folders',
    'short-words',
    'own',
  ])
  expect(problems.map(({ code }) => code)).toEqual(['scheme/id-taken', 'scheme/invalid'])
})

test('a board is changed in the file where it lies, whatever that is called', async () => {
  keep('boards/Bench of mine.yaml', boardNamed('mine'))
  const changed = boardNamed('mine', 'extends: bench-44\n')
  const path = await workshopTexts(workshop).keepBoard('mine', changed, true)
  expect(path).toBe(join(workshop, 'boards', 'Bench of mine.yaml'))
  const { boards, problems } = await loadBoards(workshop)
  expect(problems).toEqual([])
  expect(boards.find(({ board }) => board.id === 'mine')?.text).toBe(changed)
})

test('a file of another board is never written over', async () => {
  keep('boards/mine.yaml', boardNamed('yours'))
  const kept = workshopTexts(workshop).keepBoard('mine', boardNamed('mine'), true)
  await expect(kept).rejects.toMatchObject({ code: 'board/exists' })
  expect(readFileSync(join(workshop, 'boards', 'mine.yaml'), 'utf8')).toBe(boardNamed('yours'))
})

test('the schema of board files lies beside those that are kept, for editors', async () => {
  const text = newBoardText('mine', 'Mine', 'bench-44', (await loadBoards(null)).boards[0]!.board)
  await workshopTexts(workshop).keepBoard('mine', text, false)
  const [, named = ''] = /^# yaml-language-server: \$schema=(\S+)\n/.exec(text) ?? []
  const schema = readFileSync(join(workshop, 'boards', named), 'utf8')
  expect(schema).toBe(readFileSync(new URL(`../../resources/schemas/${named}`, import.meta.url), 'utf8'))
  expect(JSON.parse(schema)).toMatchObject({ $schema: 'https://json-schema.org/draft/2020-12/schema' })
  // An older one gives way.
  writeFileSync(join(workshop, 'boards', named), '{}')
  await workshopTexts(workshop).keepBoard('mine', text, true)
  expect(readFileSync(join(workshop, 'boards', named), 'utf8')).toBe(schema)
  expect((await loadBoards(workshop)).problems).toEqual([])
})
