import type { CardGeometry } from '../model/content.ts'
import { slotsOfName, type TreeEntry, type TreeFile, type TreeFolder } from './card-tree.ts'

const SLOTS_A_SECTOR = 16

/** What a reader without a memory reads to open a file. */
export interface OpenCost {
  readonly path: string
  /** Sectors of directories and FATs up to the file's entry, as the card is planned. */
  readonly sectors: number
  /** The same, were every folder in the order of its names. */
  readonly sectorsByName: number
}

/** Cost of the first and last sound in the folder whose directory is longest: what makes a card slow. */
export interface ReadCost {
  readonly folder: string
  readonly first: OpenCost
  readonly last: OpenCost
}

/**
 * What opening costs in the folder with the most slots: the reader walks the root and each folder on
 * the way from the start, slot by slot (a look-up has no other way: FAT 1.03, "Directory Structure"),
 * and asks the FAT once for each further cluster of a directory.
 *
 * @returns null where no sound lies on the card
 */
export function readCostOf(root: TreeFolder, geometry: CardGeometry): ReadCost | null {
  const found = longestFolder([root])
  const files = found.at(-1)?.entries.filter(isSound) ?? []
  const [first, last] = [files[0], files.at(-1)]
  if (first === undefined || last === undefined) return null
  const cost = (file: TreeFile): OpenCost => ({
    path: file.file.path,
    sectors: sectorsTo(found, file, geometry, asPlanned),
    sectorsByName: sectorsTo(found, file, geometry, byName),
  })
  return { folder: found.at(-1)?.path ?? '', first: cost(first), last: cost(last) }
}

function isSound(entry: TreeEntry): entry is TreeFile {
  return entry.kind === 'file' && entry.file.origin.kind === 'sound'
}

/** The way from the root to the folder with sounds that has the most slots. */
function longestFolder(way: readonly TreeFolder[]): readonly TreeFolder[] {
  const here = way.at(-1)
  let best: readonly TreeFolder[] = here?.entries.some(isSound) === true ? way : []
  for (const entry of here?.entries ?? []) {
    if (entry.kind !== 'folder') continue
    const below = longestFolder([...way, entry])
    if ((below.at(-1)?.slotCount ?? 0) > (best.at(-1)?.slotCount ?? 0)) best = below
  }
  return best
}

type Order = (entries: readonly TreeEntry[]) => readonly TreeEntry[]
const asPlanned: Order = (entries) => entries
const byName: Order = (entries) =>
  [...entries].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0))

function sectorsTo(
  way: readonly TreeFolder[],
  file: TreeEntry,
  geometry: CardGeometry,
  order: Order,
): number {
  return way.reduce((sum, folder, depth) => {
    const wanted = way[depth + 1] ?? file
    return sum + sectorsInFolder(folder, wanted, geometry, order)
  }, 0)
}

function sectorsInFolder(
  folder: TreeFolder,
  wanted: TreeEntry,
  geometry: CardGeometry,
  order: Order,
): number {
  let slots = folder.path === '' ? 1 : 2
  for (const entry of order(folder.entries)) {
    slots += slotsOfName(entry.name, entry.shortName)
    if (entry === wanted) break
  }
  const sectors = Math.ceil(slots / SLOTS_A_SECTOR)
  const isInClusters = folder.path !== '' || geometry.fatType === 'fat32'
  const sectorsACluster = geometry.clusterBytes / geometry.sectorBytes
  return sectors + (isInClusters ? Math.floor((sectors - 1) / sectorsACluster) : 0)
}
