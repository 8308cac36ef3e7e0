import { AppError } from '../errors/app-error.ts'
import type { CardGeometry, ContentFile } from '../model/content.ts'
import type { CardFile, Plan, PlannedEntry, PlannedFolder } from '../model/plan.ts'
import { allocatedClusters } from './allocated-clusters.ts'
import { demandOf, folderClusters } from './card-demand.ts'
import { treeOf, type TreeFolder } from './card-tree.ts'
import { chooseGeometry, type GeometryBoard } from './choose-geometry.ts'
import { inUnits } from '../model/in-units.ts'

export interface PlanInput {
  /** In the order the board is to meet them; names are final. */
  readonly files: readonly CardFile[]
  readonly board: GeometryBoard
  /** Size of the card; null where the content decides. */
  readonly imageBytes: number | null
}

/**
 * Lays out a whole card: FORMAT.md, "Layout" to "Clusters".
 *
 * @throws AppError `card/too-full` where it does not fit, with the figures; those of `treeOf` and
 *   `chooseGeometry`
 */
export function planCard(input: PlanInput): Plan {
  const tree = treeOf(input.files)
  return planTree(tree, chooseGeometry(tree, input.board, input.imageBytes))
}

/**
 * Lays out the files of a recorded content again: the same files in plan order on the same geometry
 * give the same plan.
 */
export function planAgain(files: readonly CardFile[], geometry: CardGeometry): Plan {
  return planTree(treeOf(files), geometry)
}

function planTree(tree: TreeFolder, geometry: CardGeometry): Plan {
  const demand = demandOf(tree, geometry.fatType, geometry.clusterBytes)
  if (demand.clusters > geometry.clusterCount) throw tooFull(demand.clusters, geometry)
  const layout = new Layout(geometry)
  layout.placeRoot(tree)
  return { geometry, folders: layout.folders, files: layout.files, usedClusters: layout.nextCluster - 2 }
}

/** Hands out clusters depth first; folders and files come out in plan order. */
class Layout {
  readonly folders: PlannedFolder[] = []
  readonly files: ContentFile[] = []
  nextCluster = 2
  readonly #geometry: CardGeometry

  constructor(geometry: CardGeometry) {
    this.#geometry = geometry
  }

  placeRoot(tree: TreeFolder): void {
    const isInClusters = this.#geometry.fatType === 'fat32'
    this.#placeFolder(tree, isInClusters ? folderClusters(tree, this.#geometry.clusterBytes) : 0, 0)
  }

  /** @param parentCluster what the folder's `..` points to */
  #placeFolder(folder: TreeFolder, clusterCount: number, parentCluster: number): number {
    const firstCluster = this.#take(clusterCount)
    const at = this.folders.length
    const entries: PlannedEntry[] = []
    const planned: PlannedFolder = {
      path: folder.path,
      firstCluster,
      clusterCount,
      parentCluster,
      slotCount: folder.slotCount,
      entries,
    }
    this.folders[at] = planned
    const asParent = folder.path === '' ? 0 : firstCluster
    for (const entry of folder.entries) {
      const { kind, name, shortName } = entry
      if (entry.kind === 'folder') {
        const own = this.#placeFolder(entry, folderClusters(entry, this.#geometry.clusterBytes), asParent)
        entries.push({ kind, name, shortName, firstCluster: own, sizeBytes: 0 })
      } else {
        const file = this.#placeFile(entry.file)
        entries.push({ kind, name, shortName, firstCluster: file.firstCluster, sizeBytes: file.sizeBytes })
      }
    }
    return firstCluster
  }

  #placeFile(file: CardFile): ContentFile {
    const clusterCount = allocatedClusters(file.sizeBytes, this.#geometry.clusterBytes)
    const { path, sizeBytes, sha256, origin } = file
    const placed = { path, sizeBytes, sha256, firstCluster: this.#take(clusterCount), clusterCount, origin }
    this.files.push(placed)
    return placed
  }

  #take(clusterCount: number): number {
    const first = clusterCount === 0 ? 0 : this.nextCluster
    this.nextCluster += clusterCount
    return first
  }
}

function tooFull(neededClusters: number, geometry: CardGeometry): AppError {
  const needed = neededClusters * geometry.clusterBytes
  const room = geometry.clusterCount * geometry.clusterBytes
  return new AppError({
    code: 'card/too-full',
    what: `The content needs ${inUnits(needed)} (${needed} bytes) and the card has room for ${inUnits(room)} (${room} bytes): ${needed - room} bytes are missing.`,
    where: '',
    mend: 'Leave a font out, or use a larger card.',
    kind: 'unmet',
  })
}
