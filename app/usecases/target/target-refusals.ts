import { AppError } from '../../errors/app-error.ts'
import type { Board } from '../../model/board.ts'
import { inUnits } from '../../model/in-units.ts'
import type { TargetPlace } from '../../model/target.ts'
import { howToFormat } from './how-to-format.ts'

/** Directory slots of a FAT16's root as volumes are usually cut (FAT 1.03); one goes to the temporary folder. */
const FAT16_ROOT_SLOTS = 512

/** Why a place is refused whatever is on it; null where it is not. */
export function placeRefusal(place: TargetPlace): AppError | null {
  if (place.forbidden !== null) {
    return new AppError({
      code: 'target/system',
      what: `This is ${place.forbidden}, and nothing is written there.`,
      where: place.path,
      mend: 'Name the folder that the card is mounted at (`cards drives` lists them), or an empty folder.',
    })
  }
  if (place.touches === null) return null
  return new AppError({
    code: 'target/library-folder',
    what: `${place.touches} holds fonts that were scanned, or the workshop itself, and originals are never written over.`,
    where: place.path,
    mend: 'Name another folder; if it is a card that was scanned, take it off the list with `roots remove` first.',
  })
}

/**
 * Why a board could not read a card, as far as its volume tells; null where it could. A plain folder is
 * only copied from, so its file system does not matter.
 * @param rootSlots directory slots that the plan's root takes
 */
export function volumeRefusal(
  { kind, path, volume }: TargetPlace,
  board: Board,
  rootSlots: number,
): AppError | null {
  if (kind === 'folder') return null
  const { fileSystems, largestCardBytes } = board.card
  const isReadable =
    volume.isFat && (volume.fatType === null || fileSystems.some((each) => each === volume.fatType))
  if (!isReadable) {
    const name =
      volume.fileSystem === ''
        ? 'has a file system that cannot be told'
        : `is formatted as ${volume.fileSystem}`
    return new AppError({
      code: 'target/file-system',
      what: `The card ${name}, and the board "${board.title}" reads ${fileSystems.map((each) => each.toUpperCase()).join(' and ')}.`,
      where: path,
      ...howToFormat(board.card),
      kind: 'unmet',
    })
  }
  if (largestCardBytes !== null && volume.sizeBytes !== null && volume.sizeBytes > largestCardBytes) {
    return new AppError({
      code: 'target/too-large',
      what: `The card has ${inUnits(volume.sizeBytes)}, and the board "${board.title}" takes cards up to ${inUnits(largestCardBytes)}.`,
      where: path,
      mend: 'Use a smaller card.',
      kind: 'unmet',
    })
  }
  if (volume.fatType === 'fat16' && rootSlots + 1 > FAT16_ROOT_SLOTS) {
    return new AppError({
      code: 'target/root-full',
      what: `The root of the card would need ${rootSlots + 1} directory slots, and a FAT16 has ${FAT16_ROOT_SLOTS}.`,
      where: path,
      mend: 'Use a card formatted as FAT32 if the board reads it, or put fewer fonts on it.',
      kind: 'unmet',
    })
  }
  return null
}

/** What to know before a card is written to, each in one sentence. */
export function cautionsOf({ kind, volume }: TargetPlace, board: Board | null): readonly string[] {
  const cautions: string[] = []
  if (kind === 'card') {
    cautions.push(
      'What a former content left on this card and the new one does not have is removed; what no record knows is only removed where you say so, and cannot be brought back from the card.',
    )
  } else {
    cautions.push(
      'This is a folder on a disk, not a card: copying it later does not keep the order of its entries. A board that counts fonts by entry needs its card written directly, or from an image.',
    )
  }
  if (board === null || kind === 'folder') return cautions
  const { clusterBytes } = volume
  if (clusterBytes !== null && clusterBytes !== board.card.clusterBytes) {
    cautions.push(
      `The card has clusters of ${inUnits(clusterBytes)}, and the board was described with ${inUnits(board.card.clusterBytes)}: it takes another amount of room, and opening sounds may be slower.`,
    )
  }
  if (volume.sizeBytes === null)
    cautions.push(
      'The system does not tell how much room there is; if it is too little, the writing ends and nothing is put in place.',
    )
  return cautions
}
