import { AppError } from '../errors/app-error.ts'
import type { BoardCard } from '../model/board.ts'
import type { CardGeometry } from '../model/content.ts'
import { demandOf } from './card-demand.ts'
import type { TreeFolder } from './card-tree.ts'
import {
  CLUSTER_RANGE,
  CLUSTER_SIZES,
  FAT16_ROOT_SLOTS,
  geometryOfImage,
  smallestGeometry,
  type FatType,
  type VolumeKind,
} from './geometry.ts'
import { inUnits } from '../model/in-units.ts'

/** The part of a board's description that the geometry follows. */
export type GeometryBoard = Pick<
  BoardCard,
  'fileSystems' | 'largestCardBytes' | 'clusterBytes' | 'partitionTable' | 'alignmentBytes'
>

/**
 * The geometry a card gets: of exactly `imageBytes` where a size is told, else the smallest that
 * holds the tree. Of the board's file systems the first that can have that many clusters is taken.
 * With a size told, the result may be too small for the tree: that is for the caller to say.
 *
 * @throws AppError `card/cluster-size`, `card/too-small`, `card/too-large`, `card/board-limit`,
 *   `card/root-full`
 */
export function chooseGeometry(
  tree: TreeFolder,
  board: GeometryBoard,
  imageBytes: number | null,
): CardGeometry {
  requireClusterSize(board.clusterBytes)
  const kinds = board.fileSystems.map((fatType): VolumeKind => ({ ...board, fatType }))
  const fitting = kinds.filter((kind) => kind.fatType === 'fat32' || tree.slotCount <= FAT16_ROOT_SLOTS)
  if (fitting.length === 0) throw rootFull(tree.slotCount)
  const found = imageBytes === null ? smallest(fitting, tree) : exact(fitting, imageBytes)
  if (board.largestCardBytes !== null && found.imageBytes > board.largestCardBytes) {
    throw new AppError({
      code: 'card/board-limit',
      what: `The card would have ${inUnits(found.imageBytes)}, and the board takes cards up to ${inUnits(board.largestCardBytes)}.`,
      where: '',
      mend: imageBytes === null ? 'Leave a font out.' : `Give a size up to ${board.largestCardBytes} bytes.`,
      kind: imageBytes === null ? 'unmet' : 'input',
    })
  }
  return found
}

function smallest(kinds: readonly VolumeKind[], tree: TreeFolder): CardGeometry {
  for (const kind of kinds) {
    const found = smallestGeometry(kind, demandOf(tree, kind.fatType, kind.clusterBytes).clusters)
    if (found !== null) return found
  }
  const kind = last(kinds)
  const most = CLUSTER_RANGE[kind.fatType].most
  throw new AppError({
    code: 'card/too-large',
    what: `The content needs more than the ${most} clusters of ${inUnits(kind.clusterBytes)} that a ${shown(kind.fatType)} can have.`,
    where: '',
    mend: 'Leave a font out, or use larger clusters if the board takes them.',
    kind: 'unmet',
  })
}

function exact(kinds: readonly VolumeKind[], imageBytes: number): CardGeometry {
  const outcomes = kinds.map((kind) => geometryOfImage(kind, imageBytes))
  const found = outcomes.find((outcome) => typeof outcome !== 'string')
  if (found !== undefined) return found
  return outcomes.includes('too-small') ? tooSmall(kinds, imageBytes) : tooLarge(kinds, imageBytes)
}

function tooSmall(kinds: readonly VolumeKind[], imageBytes: number): never {
  const least = kinds
    .map((kind) => ({ kind, bytes: smallestGeometry(kind, 0)?.imageBytes ?? Infinity }))
    .reduce((a, b) => (a.bytes <= b.bytes ? a : b))
  const { fatType, clusterBytes } = least.kind
  throw new AppError({
    code: 'card/too-small',
    what: `A card of ${inUnits(imageBytes)} is too small for a ${shown(fatType)} with clusters of ${inUnits(clusterBytes)}: it has at least ${CLUSTER_RANGE[fatType].fewest} clusters.`,
    where: '',
    mend: `Use a card of at least ${least.bytes} bytes (${inUnits(least.bytes)}).`,
    kind: 'unmet',
  })
}

function tooLarge(kinds: readonly VolumeKind[], imageBytes: number): never {
  const kind = last(kinds)
  const most = CLUSTER_RANGE[kind.fatType].most
  const mostBytes = smallestGeometry(kind, most)?.imageBytes ?? most * kind.clusterBytes
  throw new AppError({
    code: 'card/too-large',
    what: `A card of ${inUnits(imageBytes)} is too large for a ${shown(kind.fatType)} with clusters of ${inUnits(kind.clusterBytes)}: it has at most ${most} clusters.`,
    where: '',
    mend: `Give a size up to ${mostBytes} bytes; an image of that size can be put on a larger card.`,
  })
}

function requireClusterSize(clusterBytes: number): void {
  if (CLUSTER_SIZES.includes(clusterBytes)) return
  throw new AppError({
    code: 'card/cluster-size',
    what: `The board asks for clusters of ${clusterBytes} bytes, and cards are written with ${CLUSTER_SIZES.join(', ')}.`,
    where: '',
    mend: "Correct `card.clusterBytes` in the board's file.",
  })
}

function rootFull(slotCount: number): AppError {
  return new AppError({
    code: 'card/root-full',
    what: `The root of the card needs ${slotCount} directory slots, and a FAT16 has ${FAT16_ROOT_SLOTS}.`,
    where: 'the root of the card',
    mend: 'Put fewer fonts or files in the root, or give them names of eight and three characters.',
    kind: 'unmet',
  })
}

function last(kinds: readonly VolumeKind[]): VolumeKind {
  const kind = kinds.at(-1)
  if (kind === undefined) throw new RangeError('a board without file systems')
  return kind
}

export function shown(fatType: FatType): string {
  return fatType.toUpperCase()
}
