import { expect, test } from 'vitest'
import type { CardOrder } from '../../../app/usecases/card-order.ts'
import type { CardPorts } from '../../../app/usecases/card-ports.ts'
import { gateFonts } from '../../../app/usecases/gate-fonts.ts'
import { fontLike, judged } from '../../support/judged-font.ts'
import { shippedBoard, shippedBoardText } from '../../support/shipped-boards.ts'
import { shippedScheme } from '../../support/shipped-schemes.ts'

test('a card that would not play is refused with each rule, and how often it was met', async () => {
  const board = shippedBoard('bench-44')
  const wrong = { facts: { channels: 2 } }
  const edition = fontLike({
    sounds: {
      'clash-01.wav': wrong,
      'hum.wav': { ...wrong, place: null },
      'swing-01.wav': { place: null },
      'swing-02.wav': { place: null },
      'ignite-01.wav': { place: null },
    },
  })
  const { findings } = judged(edition)
  const missing = findings.filter(({ rule }) => rule === 'role-missing').length
  expect(missing).toBeGreaterThan(1)
  const order: CardOrder = {
    board,
    boardText: shippedBoardText(board.id),
    scheme: shippedScheme(board.names.scheme),
    build: null,
    editions: [edition],
  }
  const ports: Pick<CardPorts, 'judgeAll' | 'judgeCard'> = {
    judgeAll: () => Promise.resolve([judged(edition)]),
    judgeCard: () => Promise.resolve([]),
  }
  const refused = gateFonts(order, [], ports)
  await expect(refused).rejects.toMatchObject({ code: 'make/not-ready', kind: 'unmet' })
  await expect(refused).rejects.toThrow(`role-missing ${missing} times`)
  await expect(refused).rejects.toThrow('channels in 2 sounds')
})
