import { readFileSync } from 'node:fs'
import { Ajv2020 } from 'ajv/dist/2020.js'
import { parse } from 'yaml'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { boardJsonSchema } from '../../../app/boards/board-schema.ts'
import { boardText, newBoardText } from '../../../app/boards/board-text.ts'
import { boardInWords, diffBoards, unknownLimitCount } from '../../../app/boards/board-words.ts'
import { LIMIT_PATHS } from '../../../app/boards/limits.ts'
import { boardProblems, readBoard } from '../../../app/boards/read-board.ts'
import { AppError } from '../../../app/errors/app-error.ts'
import { boardLikeBench44, sha256Hex, shippedBoard, shippedBoardText } from '../../support/shipped-boards.ts'

const surroundings = { parentOf: shippedBoardOrNone, boardIds: ['bench-44', 'mine'], sha256Hex }
const SHIPPED = ['bench-32', 'bench-44', 'bench-48']

function shippedBoardOrNone(id: string): ReturnType<typeof shippedBoard> | undefined {
  return SHIPPED.includes(id) ? shippedBoard(id) : undefined
}

const minimal = 'board: { id: mine, title: Mine }\n'

describe('the boards that ship', () => {
  test('bench-44 takes 44.1 kHz, 16 bit, mono, on FAT32 with clusters of 4 KiB', () => {
    const { audio, card } = shippedBoard('bench-44')
    expect(audio).toMatchObject({ sampleRatesHz: [44_100], bitDepths: [16], channels: [1] })
    expect(card).toMatchObject({ fileSystems: ['fat32'], clusterBytes: 4096 })
  })

  test('bench-32 takes 32 kHz, names of twelve characters numbered from 0, on FAT16', () => {
    const { audio, names, fonts, card } = shippedBoard('bench-32')
    expect(audio).toMatchObject({ sampleRatesHz: [32_000], bitDepths: [16], channels: [1] })
    expect(names).toMatchObject({ longestNameUnits: 12, scheme: 'short-words' })
    expect(fonts.numbering).toEqual({ start: 0, withoutGaps: true })
    expect(card.fileSystems).toEqual(['fat16'])
  })

  test('bench-48 takes 48 kHz, 16 or 24 bit, mono or stereo, and reads its config from the card', () => {
    const { audio, names, config } = shippedBoard('bench-48')
    expect(audio).toMatchObject({ sampleRatesHz: [48_000], bitDepths: [16, 24], channels: [1, 2] })
    expect(names.scheme).toBe('role-folders')
    expect(config).toMatchObject({ use: 'read-from-card', required: true })
  })

  test.each(SHIPPED)('%s can say every limit in words', (id) => {
    const words = boardInWords(shippedBoard(id))
    expect(words.map((each) => each.limit)).toEqual(LIMIT_PATHS)
    for (const each of words) expect(each.words).toMatch(/^[A-Z].*\.$/)
  })

  test.each(SHIPPED)('%s as a complete text of its own is the same board', (id) => {
    const board = shippedBoard(id)
    expect(readBoard(boardText(board), 'kept.yaml', surroundings)).toEqual(board)
  })
})

describe('a limit', () => {
  test('that is left out is unknown and becomes none', () => {
    const board = readBoard(`${minimal}audio: { channels: [1] }\n`, 'mine.yaml', surroundings)
    expect(board.audio.channels).toEqual([1])
    expect(board.audio.sampleRatesHz).toBeNull()
    expect(board.known['audio.sampleRatesHz']).toBe('unknown')
    expect(board.known['audio.channels']).toBeUndefined()
    expect(unknownLimitCount(board)).toBe(LIMIT_PATHS.length - 1)
  })

  test('that is null is known to be none', () => {
    const board = readBoard(`${minimal}audio: { longestSeconds: null }\n`, 'mine.yaml', surroundings)
    expect(board.known['audio.longestSeconds']).toBeUndefined()
    expect(boardInWords(board).find((each) => each.limit === 'audio.longestSeconds')).toEqual({
      limit: 'audio.longestSeconds',
      words: 'Sounds of any length.',
      known: 'stated',
    })
  })

  test('that is said to be unknown judges nothing, whatever it says', () => {
    const board = boardLikeBench44('known: { audio.channels: unknown }\n')
    expect(board.audio.channels).toBeNull()
    expect(unknownLimitCount(board)).toBe(unknownLimitCount(shippedBoard('bench-44')) + 1)
  })

  test('that the plan of a card needs keeps a usual value while it is unknown', () => {
    const board = readBoard(minimal, 'mine.yaml', surroundings)
    expect(board.card.clusterBytes).toBe(32_768)
    expect(board.fonts.folderTemplate).toBe('{slot:02}-{name}')
  })
})

describe('a board that extends another', () => {
  test('takes over what it does not say, and how that is known', () => {
    const board = boardLikeBench44('audio: { channels: [1, 2] }\n')
    expect(board.audio.channels).toEqual([1, 2])
    expect(board.audio.sampleRatesHz).toEqual([44_100])
    expect(board.known['audio.longestSeconds']).toBe('seen playing')
    expect(diffBoards(shippedBoard('bench-44'), board).map((each) => each.limit)).toEqual(['audio.channels'])
  })

  test.each([
    ['extends: nobody\n', 'There is no readable board "nobody" to extend.'],
    ['extends: bench44\n', 'There is no readable board "bench44" to extend. Did you mean "bench-44"?'],
    ['extends: mine\n', 'A board cannot extend itself.'],
  ])('is refused for %s', (line, message) => {
    expect(boardProblems(minimal + line, surroundings)).toEqual([{ line: 2, column: 10, message }])
  })
})

describe('the hash of a board', () => {
  test('is the same for two texts that mean the same', () => {
    const a = `${minimal}audio: { channels: [1], bitDepths: [16] }\n`
    const b = `# a remark\naudio:\n  bitDepths:\n    - 16\n  channels: [ 0x1 ]\nboard: { title: Mine, id: mine, notes: more }\n`
    expect(readBoard(a, 'a', surroundings).hash).toBe(readBoard(b, 'b', surroundings).hash)
  })

  test.each([
    'audio: { channels: [2] }',
    'levels: { spreadLu: 2 }',
    'known: { audio.channels: seen playing }',
    'rules: { clipped: { severity: off, reason: meant to crackle } }',
    'config: null',
  ])('changes with %s', (line) => {
    expect(boardLikeBench44(`${line}\n`).hash).not.toBe(boardLikeBench44('').hash)
  })
})

test.each([
  ['audio: { chanels: [1] }', 2, 10, '"chanels" is not known here. Did you mean "channels"?'],
  ['adio: {}', 2, 1, '"adio" is not known here. Did you mean "audio"?'],
  [
    'fonts: { order: nme }',
    2,
    17,
    '"nme" is not allowed for "fonts.order": it is one of name, entry. Did you mean "name"?',
  ],
  [
    'fonts:\n  rolesRequired: [hum, clesh]',
    3,
    24,
    /"clesh" is not allowed for "fonts\.rolesRequired\.1".*Did you mean "clash"\?/,
  ],
  [
    'known: { audio.chanels: stated }',
    2,
    10,
    '"audio.chanels" is not known here. Did you mean "audio.channels"?',
  ],
  ['known: { fonts.order: stated }', 2, 23, '"fonts.order" is said to be known, and has no value.'],
  [
    'rules: { cliped: { severity: off, reason: x } }',
    2,
    10,
    '"cliped" is not known here. Did you mean "clipped"?',
  ],
  ['rules: { clipped: { severity: off } }', 2, 19, '"rules.clipped.reason" is missing.'],
  ['names: { charset: "[" }', 2, 19, /is no regular expression/],
  ['fonts: { folderTemplate: "{slott}" }', 2, 26, /has neither \{slot\} nor \{name\}/],
  ['levels: { hum: { lowestLufs: -10, highestLufs: -20 } }', 2, 16, /The lowest level is above the highest/],
  ['audio: { sampleRatesHz: 44100 }', 2, 25, '"audio.sampleRatesHz" must be a list, as in [1, 2].'],
  ['audio: { bitDepths: [sixteen] }', 2, 22, '"audio.bitDepths.0" must be a number.'],
  ['audio: { bitDepths: [] }', 2, 21, '"audio.bitDepths" must not be empty.'],
  ['audio: { longestSeconds: 0 }', 2, 26, '"audio.longestSeconds" must be more than 0.'],
  ['fonts: { mostFonts: 1.5 }', 2, 21, '"fonts.mostFonts" must be a whole number.'],
  ['fonts: 3', 2, 8, '"fonts" must have keys of its own below it.'],
  ['card: { alignmentBytes: 1000 }', 2, 25, '"card.alignmentBytes" must be a multiple of 512.'],
  ['rules: { level: { severity: off, reason: " " } }', 2, 42, '"rules.level.reason" must not be empty.'],
  ['audio: [', 3, 1, /This is no YAML/],
  ['board: { id: twice, title: T }', 2, 1, /This is no YAML: Map keys must be unique/],
  ['card: { clusterBytes: 65536 }', 2, 23, /"card\.clusterBytes"|"65536" is not allowed/],
])('%s is refused at line %i, column %i', (line, atLine, column, message) => {
  const [first] = boardProblems(`${minimal}${line}\n`, surroundings)
  expect(first).toMatchObject({ line: atLine, column })
  if (typeof message === 'string') expect(first?.message).toBe(message)
  else expect(first?.message).toMatch(message)
})

test('a board file that cannot be used is an error with file, line and column', () => {
  let thrown: unknown
  try {
    readBoard(`${minimal}audio: { chanels: [1] }\n`, 'boards/mine.yaml', surroundings)
  } catch (fault) {
    thrown = fault
  }
  expect(thrown).toBeInstanceOf(AppError)
  expect(thrown).toMatchObject({
    code: 'board/invalid',
    where: 'boards/mine.yaml, line 2, column 10',
    kind: 'input',
  })
})

test('no text whatever makes reading a board throw anything but its own error', () => {
  const pieces = fc.constantFrom(
    'board',
    ':',
    ' ',
    '\n',
    '- ',
    '{',
    '}',
    '[',
    ']',
    '&a ',
    '*a',
    '"',
    '!!x ',
    'id',
    '__proto__',
    '\u0000',
    '…',
    '---\n',
    '? ',
    '|',
    '%YAML 9\n',
  )
  fc.assert(
    fc.property(fc.array(pieces, { maxLength: 30 }), (text) => {
      expect(boardProblems(text.join(''), surroundings).length).toBeGreaterThan(0)
    }),
    { numRuns: 500 },
  )
})

test('aliases that unfold without end are refused', () => {
  const depths = Array.from({ length: 11 }, (_, depth) => depth)
  const bomb = `a0: &a0 [x,x,x,x,x,x,x,x,x]\n${depths
    .map((depth) => `a${depth + 1}: &a${depth + 1} [${Array(9).fill(`*a${depth}`).join(',')}]`)
    .join('\n')}\n`
  expect(boardProblems(bomb, surroundings)[0]?.message).toBe('Its aliases unfold to too much text.')
})

describe('the published JSON Schema', () => {
  const path = new URL('../../../resources/schemas/board.schema.json', import.meta.url)

  test('is the one that the program reads by', async () => {
    await expect(`${JSON.stringify(boardJsonSchema(), null, 2)}\n`).toMatchFileSnapshot(path.pathname)
  })

  test('says which draft it is, and accepts the shipped boards', () => {
    const schema = JSON.parse(readFileSync(path, 'utf8')) as { $schema: string }
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema')
    const validate = new Ajv2020({ strict: false }).compile(schema)
    for (const id of SHIPPED) expect(validate(parse(shippedBoardText(id))), id).toBe(true)
    expect(validate({ board: { id: 'mine', title: 'Mine' }, adio: {} })).toBe(false)
  })
})

describe('the text of a new board', () => {
  test('can be read at once, and knows no limit', () => {
    const board = readBoard(
      newBoardText('mine', 'My board', null, shippedBoard('bench-44')),
      'mine.yaml',
      surroundings,
    )
    expect(board).toMatchObject({ id: 'mine', title: 'My board' })
    expect(unknownLimitCount(board)).toBe(LIMIT_PATHS.length)
  })

  test('with its comment signs taken away is the sample board', () => {
    const sample = shippedBoard('bench-44')
    const text = newBoardText('mine', 'My board', null, sample)
      .split('\n')
      .filter((line) => /^[a-z ]|^#( {2}|[a-z]+:)/.test(line) && !/known|seen playing/.test(line))
      .map((line) => line.replace(/^#/, ''))
      .join('\n')
    const differing = diffBoards(sample, readBoard(text, 'mine.yaml', surroundings)).map((each) => each.limit)
    expect(differing.filter((limit) => sample.known[limit] === undefined)).toEqual([])
  })

  test('with a parent is that parent', () => {
    const text = newBoardText('mine', 'My board', 'bench-48', shippedBoard('bench-48'))
    expect(diffBoards(shippedBoard('bench-48'), readBoard(text, 'mine.yaml', surroundings))).toEqual([])
  })
})
