import { expect, test } from 'vitest'
import { readCostOfFiles, readCostOfFonts } from '../../../app/usecases/read-cost-of-card.ts'
import { fontLike } from '../../support/judged-font.ts'
import { boardLikeBench44, shippedBoard } from '../../support/shipped-boards.ts'
import { shippedScheme } from '../../support/shipped-schemes.ts'

const board = boardLikeBench44('card: { mostSectorsToOpen: 8 }\n')
const scheme = shippedScheme('plain-words')
const withClashes = (count: number) =>
  fontLike({
    name: 'Amber',
    sounds: Object.fromEntries(
      Array.from({ length: count }, (_, index) => [`clash-${String(index + 1).padStart(3, '0')}.wav`, {}]),
    ),
  })

test('the cost is that of the dearest sound of the longest folder, and grows with it', () => {
  const few = readCostOfFonts(board, scheme, [withClashes(4), { ...withClashes(2), id: 'other' }])
  const many = readCostOfFonts(board, scheme, [withClashes(4), { ...withClashes(200), id: 'other' }])
  expect(few?.path).toMatch(/^01-amber\//)
  expect(many?.path).toMatch(/^02-amber\//)
  expect(many!.sectors).toBeGreaterThan(few!.sectors)
  // Two folders of the root, then 2 + 200 short slots; names of more than eight characters take three.
  expect(many!.sectors).toBeGreaterThanOrEqual(Math.ceil(202 / 16))
})

test('a board without a limit, or a card that cannot be laid out, has no cost to judge', () => {
  const free = boardLikeBench44('card: { mostSectorsToOpen: null }\n')
  expect(readCostOfFonts(free, scheme, [withClashes(4)])).toBeNull()
  expect(readCostOfFonts(board, scheme, [])).toBeNull()
  const clash = (path: string) => ({
    path,
    sizeBytes: 1,
    sha256: '',
    origin: { kind: 'sound', editionId: '', path } as const,
  })
  expect(readCostOfFiles([clash('a/hum.wav'), clash('a/HUM.wav')], board)).toBeNull()
})

test('a shipped board sets the limit, so that the rule is at work', () => {
  expect(shippedBoard('bench-44').card.mostSectorsToOpen).toBe(32)
})
