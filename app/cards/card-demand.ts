import { allocatedClusters } from './allocated-clusters.ts'
import type { TreeFolder } from './card-tree.ts'
import type { FatType } from './geometry.ts'

/** What a tree asks of a volume. */
export interface CardDemand {
  readonly clusters: number
  readonly rootSlots: number
}

/** Clusters of a whole tree on one kind of volume, the root's own among them where it has any. */
export function demandOf(root: TreeFolder, fatType: FatType, clusterBytes: number): CardDemand {
  const rootClusters = fatType === 'fat32' ? folderClusters(root, clusterBytes) : 0
  return { clusters: rootClusters + clustersInside(root, clusterBytes), rootSlots: root.slotCount }
}

/** Clusters of a folder's own slots: at least one. */
export function folderClusters(folder: TreeFolder, clusterBytes: number): number {
  return Math.max(1, allocatedClusters(folder.slotCount * 32, clusterBytes))
}

function clustersInside(folder: TreeFolder, clusterBytes: number): number {
  let clusters = 0
  for (const entry of folder.entries) {
    clusters +=
      entry.kind === 'file'
        ? allocatedClusters(entry.file.sizeBytes, clusterBytes)
        : folderClusters(entry, clusterBytes) + clustersInside(entry, clusterBytes)
  }
  return clusters
}
