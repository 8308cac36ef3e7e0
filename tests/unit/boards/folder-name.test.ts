import fc from 'fast-check'
import { expect, test } from 'vitest'
import { folderNameOf } from '../../../app/boards/folder-name.ts'
import { shippedBoard } from '../../support/shipped-boards.ts'

test.each([
  ['bench-44', 1, 'Harbour Bell', '01-harbour-bell'],
  ['bench-44', 12, 'Été  à Ombrelune!', '12-ete-a-ombrelune'],
  ['bench-44', 3, '漢字', '03-font'],
  ['bench-44', 4, '', '04-font'],
  ['bench-44', 5, '...', '05-font'],
  ['bench-32', 0, 'Harbour Bell', '00_HARBOUR_B'],
  ['bench-32', 7, 'Ember', '07_EMBER'],
  ['bench-48', 1, ' Harbour Bell. ', 'Harbour Bell'],
  ['bench-48', 1, 'a/b\\c', 'a-b-c'],
])('%s, slot %i: "%s" lies in the folder "%s"', (id, slot, name, folder) => {
  expect(folderNameOf(shippedBoard(id), slot, name)).toBe(folder)
})

test('a folder always has only characters of its board, and never more than it takes', () => {
  for (const id of ['bench-44', 'bench-32', 'bench-48']) {
    const board = shippedBoard(id)
    const allowed = new RegExp(`^(?:${board.names.charset})+$`, 'u')
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 80 }), fc.nat({ max: 99 }), (name, slot) => {
        const folder = folderNameOf(board, slot, name)
        expect(folder).toMatch(allowed)
        expect(folder.length).toBeLessThanOrEqual(board.names.longestNameUnits ?? 255)
        expect(folder).not.toMatch(/[. ]$/)
      }),
    )
  }
})
