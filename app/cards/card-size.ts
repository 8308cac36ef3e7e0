import type { CardGeometry } from '../model/content.ts'
import type { CardFile } from '../model/plan.ts'
import { allocatedClusters } from './allocated-clusters.ts'
import { demandOf, folderClusters } from './card-demand.ts'
import { treeOf, type TreeFolder } from './card-tree.ts'
import { chooseGeometry } from './choose-geometry.ts'
import type { PlanInput } from './plan-card.ts'
import { readCostOf, type ReadCost } from './read-cost.ts'

/** Figures of a card, in bytes, from the same tree and geometry as its plan. */
export interface CardSize extends FolderCost {
  readonly geometry: CardGeometry
  /** What is free afterwards; 0 where it does not fit. */
  readonly freeBytes: number
  readonly fits: boolean
  readonly missingBytes: number
  /** Each folder by its path, with all that is in it: what leaving it out would free. */
  readonly folders: ReadonlyMap<string, FolderCost>
  /** Null where no sound lies on the card. */
  readonly readCost: ReadCost | null
}

/** `usedBytes` is the sum of the three before it: whole clusters. */
export interface FolderCost {
  readonly files: number
  readonly contentBytes: number
  readonly slackBytes: number
  /** Clusters of the directories themselves; the root of a FAT16 has none. */
  readonly directoryBytes: number
  readonly usedBytes: number
}

/** @throws AppError as `planCard`, but for `card/too-full`: that is `fits` here. */
export function sizeOfCard(input: PlanInput): CardSize {
  const tree = treeOf(input.files)
  return sizeOfTree(tree, chooseGeometry(tree, input.board, input.imageBytes))
}

/** Figures of a card that was laid out before, from its files in plan order. */
export function sizeAgain(files: readonly CardFile[], geometry: CardGeometry): CardSize {
  return sizeOfTree(treeOf(files), geometry)
}

function sizeOfTree(tree: TreeFolder, geometry: CardGeometry): CardSize {
  const { clusterBytes, fatType, clusterCount } = geometry
  const folders = new Map<string, FolderCost>()
  const rootClusters = fatType === 'fat32' ? folderClusters(tree, clusterBytes) : 0
  const cost = costOf(tree, rootClusters, clusterBytes, folders)
  const usedBytes = demandOf(tree, fatType, clusterBytes).clusters * clusterBytes
  const roomBytes = clusterCount * clusterBytes
  return {
    ...cost,
    usedBytes,
    geometry,
    freeBytes: Math.max(0, roomBytes - usedBytes),
    fits: usedBytes <= roomBytes,
    missingBytes: Math.max(0, usedBytes - roomBytes),
    folders,
    readCost: readCostOf(tree, geometry),
  }
}

/** Adds every folder below to `folders`. @param ownClusters those of the folder's own slots */
function costOf(
  folder: TreeFolder,
  ownClusters: number,
  clusterBytes: number,
  folders: Map<string, FolderCost>,
): FolderCost {
  let files = 0
  let contentBytes = 0
  let slackBytes = 0
  let directoryBytes = ownClusters * clusterBytes
  for (const entry of folder.entries) {
    if (entry.kind === 'file') {
      const { sizeBytes } = entry.file
      files += 1
      contentBytes += sizeBytes
      slackBytes += allocatedClusters(sizeBytes, clusterBytes) * clusterBytes - sizeBytes
      continue
    }
    const inner = costOf(entry, folderClusters(entry, clusterBytes), clusterBytes, folders)
    folders.set(entry.path, inner)
    files += inner.files
    contentBytes += inner.contentBytes
    slackBytes += inner.slackBytes
    directoryBytes += inner.directoryBytes
  }
  const usedBytes = contentBytes + slackBytes + directoryBytes
  return { files, contentBytes, slackBytes, directoryBytes, usedBytes }
}
