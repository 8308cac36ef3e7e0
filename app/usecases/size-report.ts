import type { ReadCost } from '../cards/read-cost.ts'
import type { ResponseOf } from '../contract/calls.ts'
import type { Board } from '../model/board.ts'
import type { CountedCard } from './lay-out-card.ts'

/** The figures of a card as the doors get them. */
export function sizeReportOf(
  { size, contents, waysToFit }: CountedCard,
  board: Board,
  cardBytes: number | null,
): ResponseOf<'size'> {
  const { geometry } = size
  return {
    board: board.id,
    fileSystem: geometry.fatType,
    clusterBytes: geometry.clusterBytes,
    cardBytes,
    imageBytes: geometry.imageBytes,
    usedBytes: size.usedBytes,
    freeBytes: size.freeBytes,
    contentBytes: size.contentBytes,
    slackBytes: size.slackBytes,
    fits: size.fits,
    missingBytes: size.missingBytes,
    waysToFit: [...waysToFit],
    readCost: size.readCost === null ? null : { ...size.readCost, ...judged(size.readCost, board) },
    fonts: contents.fonts.map(({ slot, edition, folder, files }) => {
      const cost = size.folders.get(folder)
      return {
        editionId: edition.id,
        slot,
        font: edition.font.name,
        folder,
        files: files.length,
        contentBytes: cost?.contentBytes ?? 0,
        slackBytes: cost?.slackBytes ?? 0,
        directoryBytes: cost?.directoryBytes ?? 0,
        usedBytes: cost?.usedBytes ?? 0,
      }
    }),
  }
}

function judged(
  { first, last }: ReadCost,
  { card }: Board,
): { limitSectors: number | null; isWithinLimit: boolean } {
  const limitSectors = card.mostSectorsToOpen
  const most = Math.max(first.sectors, last.sectors)
  return { limitSectors, isWithinLimit: limitSectors === null || most <= limitSectors }
}
