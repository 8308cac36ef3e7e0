import type { CardGeometry } from '../model/content.ts'
import { demandOf, folderClusters } from './card-demand.ts'
import { treeOf, type TreeEntry, type TreeFolder } from './card-tree.ts'
import { allocatedClusters } from './allocated-clusters.ts'
import { chooseGeometry } from './choose-geometry.ts'
import type { PlanInput } from './plan-card.ts'

/** Figures of a card, in bytes, from the same tree and geometry as its plan. */
export interface CardSize {
  readonly geometry: CardGeometry
  /** Clusters in use times their size; the root's among them on FAT32. */
  readonly usedBytes: number
  /** What is free afterwards; 0 where it does not fit. */
  readonly freeBytes: number
  readonly contentBytes: number
  readonly slackBytes: number
  readonly directoryBytes: number
  readonly fits: boolean
  readonly missingBytes: number
  /** Cost of each entry of the root, in plan order: what leaving it out would free. */
  readonly rootEntries: readonly EntryCost[]
}

export interface EntryCost {
  readonly name: string
  readonly files: number
  readonly contentBytes: number
  readonly slackBytes: number
  readonly directoryBytes: number
  readonly usedBytes: number
}

/** @throws AppError as `planCard`, but for `card/too-full`: that is `fits` here. */
export function sizeOfCard(input: PlanInput): CardSize {
  const tree = treeOf(input.files)
  const geometry = chooseGeometry(tree, input.board, input.imageBytes)
  const { clusterBytes, fatType } = geometry
  const usedBytes = demandOf(tree, fatType, clusterBytes).clusters * clusterBytes
  const roomBytes = geometry.clusterCount * clusterBytes
  const rootEntries = tree.entries.map((entry) => costOf(entry, clusterBytes))
  const rootBytes = fatType === 'fat32' ? folderClusters(tree, clusterBytes) * clusterBytes : 0
  return {
    geometry,
    usedBytes,
    freeBytes: Math.max(0, roomBytes - usedBytes),
    contentBytes: sum(rootEntries.map((cost) => cost.contentBytes)),
    slackBytes: sum(rootEntries.map((cost) => cost.slackBytes)),
    directoryBytes: rootBytes + sum(rootEntries.map((cost) => cost.directoryBytes)),
    fits: usedBytes <= roomBytes,
    missingBytes: Math.max(0, usedBytes - roomBytes),
    rootEntries,
  }
}

function costOf(entry: TreeEntry, clusterBytes: number): EntryCost {
  const cost = { files: 0, contentBytes: 0, slackBytes: 0, directoryBytes: 0 }
  addCost(entry, clusterBytes, cost)
  return { name: entry.name, ...cost, usedBytes: cost.contentBytes + cost.slackBytes + cost.directoryBytes }
}

interface Tally {
  files: number
  contentBytes: number
  slackBytes: number
  directoryBytes: number
}

function addCost(entry: TreeEntry, clusterBytes: number, tally: Tally): void {
  if (entry.kind === 'folder') return addFolder(entry, clusterBytes, tally)
  const { sizeBytes } = entry.file
  tally.files += 1
  tally.contentBytes += sizeBytes
  tally.slackBytes += allocatedClusters(sizeBytes, clusterBytes) * clusterBytes - sizeBytes
}

function addFolder(folder: TreeFolder, clusterBytes: number, tally: Tally): void {
  tally.directoryBytes += folderClusters(folder, clusterBytes) * clusterBytes
  for (const entry of folder.entries) addCost(entry, clusterBytes, tally)
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0)
}
