import { cardNames, cardPath } from '../boards/card-names.ts'
import type { CardName } from '../boards/card-names.ts'
import { folderNameOf } from '../boards/folder-name.ts'
import { placeInWords } from '../boards/place-words.ts'
import type { Scheme } from '../boards/scheme.ts'
import type { RequestOf, ResponseOf } from '../contract/calls.ts'
import type { Board } from '../model/board.ts'
import type { Edition } from '../model/library.ts'
import type { CardPorts } from './card-ports.ts'

/**
 * A font's names as they are and as they will be on the card of a board. A preview: nothing is renamed
 * in place. @throws AppError `font/unknown`, `board/unknown`, `scheme/unknown`
 */
export async function translateNames(
  { editionId, boardId }: RequestOf<'translate'>,
  ports: Pick<CardPorts, 'database' | 'getBoard'>,
): Promise<ResponseOf<'translate'>> {
  const { board, scheme } = await ports.getBoard(boardId)
  return translationOf(await ports.database.library.getEdition(editionId), board, scheme)
}

/** The same for values at hand; the font stands in the board's first slot. */
export function translationOf(edition: Edition, board: Board, scheme: Scheme): ResponseOf<'translate'> {
  const folder = folderNameOf(board, board.fonts.firstSlot, edition.font.name)
  const companions = edition.companions.map((companion) => companion.path)
  const written = cardNames(edition.sounds, companions, board, scheme)
  const forNothing = new Set(
    edition.sounds.flatMap(({ path, place, roleSource }) =>
      place === null && roleSource === 'user' ? [path] : [],
    ),
  )
  const names = written.map((name) => {
    const to = cardPath(board, folder, name)
    const { from, kind } = name
    const isForNothing = kind === 'sound' && forNothing.has(from)
    return {
      from,
      kind,
      to,
      isRenamed: name.to !== null && name.to !== from,
      conflict: isForNothing
        ? 'It was told to be for nothing, and stays off the card.'
        : conflictOf(name, board, scheme),
      isLeftOff: isForNothing || name.noName === 'stays-off',
    }
  })
  return {
    editionId: edition.id,
    font: edition.font.name,
    board: board.id,
    folder,
    names,
    renamedCount: names.filter((name) => name.isRenamed).length,
    conflictCount: names.filter(({ conflict, isLeftOff }) => conflict !== null && !isLeftOff).length,
  }
}

function conflictOf({ noName, place }: CardName, board: Board, scheme: Scheme): string | null {
  const role = place === null ? '' : placeInWords(place)
  switch (noName) {
    case null:
      return null
    case 'no-role':
      return 'Nobody knows what this sound is for.'
    case 'unspellable':
      return `The scheme ${scheme.id} has no name for ${role}.`
    case 'conflict':
      return place === null
        ? 'Every name that it could get is taken.'
        : `Another sound takes its name: both are ${role}.`
    case 'stays-off':
      return `${board.title} wants no texts and pictures on its card.`
  }
}
