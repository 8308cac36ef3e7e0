import { describe, expect, test } from 'vitest'
import { boardText } from '../../../app/boards/board-text.ts'
import { AppError } from '../../../app/errors/app-error.ts'
import { showBoard, type BoardVersionPorts } from '../../../app/usecases/board-versions.ts'
import { boardLikeBench44, sha256Hex, shippedBoard, shippedBoardText } from '../../support/shipped-boards.ts'

const A = 'ab12cd34'.padEnd(64, '0')
const B = 'ab12cd35'.padEnd(64, '0')

/** A workshop with the shipped boards, and the texts that it kept by their hash. */
function portsWith(kept: Readonly<Record<string, string>>): BoardVersionPorts {
  const shelf = ['bench-44'].map((id) => ({
    board: shippedBoard(id),
    source: 'shipped' as const,
    text: shippedBoardText(id),
  }))
  return {
    getBoard: (id) => {
      const found = shelf.find(({ board }) => board.id === id)
      if (found !== undefined) return Promise.resolve(found)
      const told = { code: 'board/unknown', what: 'There is none.', where: id, mend: 'Look.' }
      return Promise.reject(new AppError(told))
    },
    listBoards: () => Promise.resolve(shelf),
    sha256Hex,
    records: {
      listBoardTexts: () =>
        Promise.resolve(
          Object.keys(kept).map((hash) => ({ hash, boardId: 'mine', keptAt: '2026-11-25T09:00:00Z' })),
        ),
      findBoardText: (hash) => Promise.resolve(kept[hash]),
      findContent: () => Promise.resolve(undefined),
      listContents: () => Promise.resolve([]),
      listBuilds: () => Promise.resolve([]),
    },
  }
}

describe('a board that was kept', () => {
  const whole = boardText(boardLikeBench44('audio: { channels: [1, 2] }\n'))

  test.each([A, A.slice(0, 8), A.toUpperCase()])(
    'is found by %s, and has the hash it was kept by',
    async (word) => {
      const { board, text } = await showBoard({ boardId: word }, portsWith({ [A]: whole }))
      expect(board).toMatchObject({ id: 'mine', source: 'kept', hash: A })
      expect(text).toBe(whole)
      expect(board.inWords.find(({ limit }) => limit === 'audio.channels')?.words).toBe('Channels: 1 or 2.')
    },
  )

  test.each([
    ['several begin so', A.slice(0, 8), { [A]: whole, [`${A.slice(0, 63)}f`]: whole }, 'board/ambiguous'],
    ['none begins so', 'ffffffff', { [A]: whole, [B]: whole }, 'board/unknown'],
    ['too little of the hash is told', A.slice(0, 7), { [A]: whole }, 'board/unknown'],
    ['it is no hash at all', 'my board', { [A]: whole }, 'board/unknown'],
    ['its text no longer reads', A, { [A]: 'board: {}' }, 'board/invalid'],
  ])('is not shown where %s', async (_what, word, kept, code) => {
    await expect(showBoard({ boardId: word }, portsWith(kept))).rejects.toMatchObject({ code })
  })

  test('gives way to a board of the shelf of that name', async () => {
    const { board } = await showBoard({ boardId: 'bench-44' }, portsWith({ [A]: whole }))
    expect(board.source).toBe('shipped')
  })
})
