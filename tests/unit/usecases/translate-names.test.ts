import { describe, expect, test } from 'vitest'
import type { Edition } from '../../../app/model/library.ts'
import { translationOf } from '../../../app/usecases/translate-names.ts'
import { fontLike } from '../../support/judged-font.ts'
import { shippedBoard } from '../../support/shipped-boards.ts'
import { shippedScheme } from '../../support/shipped-schemes.ts'

const board = shippedBoard('bench-32')

/** Names that do not come through as they are meant to, with why. */
function leftOver(edition: Edition) {
  const { names, conflictCount } = translationOf(edition, board, shippedScheme(board.names.scheme))
  const told = names.flatMap(({ from, conflict, isLeftOff }) =>
    conflict === null ? [] : [`${from}: ${conflict}${isLeftOff ? ' (on purpose)' : ''}`],
  )
  return { told, conflictCount }
}

describe('what gets no name on a card', () => {
  test('is a conflict where nobody meant it so', () => {
    expect(leftOver(fontLike({ sounds: { 'klang.wav': { place: null } } }))).toEqual({
      told: ['klang.wav: Nobody knows what this sound is for.'],
      conflictCount: 1,
    })
  })

  test('is none where it was told to be for nothing, or the board wants no texts', () => {
    const companions = [{ path: 'about.txt', sizeBytes: 9, sha256: 'x', kind: 'text' as const }]
    const font = fontLike({ sounds: { 'klang.wav': { place: null } }, companions })
    const sounds = font.sounds.map((sound) =>
      sound.place === null ? { ...sound, roleSource: 'user' as const } : sound,
    )
    expect(leftOver({ ...font, sounds })).toEqual({
      told: [
        'klang.wav: It was told to be for nothing, and stays off the card. (on purpose)',
        'about.txt: Bench 32 wants no texts and pictures on its card. (on purpose)',
      ],
      conflictCount: 0,
    })
  })
})
