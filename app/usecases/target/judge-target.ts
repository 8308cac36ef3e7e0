import { treeOf } from '../../cards/card-tree.ts'
import { strangersThere } from '../../cards/folder/fill-target.ts'
import { foldersOf } from '../../cards/folder/planned-tops.ts'
import { neededBytes, tooFull } from '../../cards/folder/target-space.ts'
import { nameKey } from '../../cards/card-name.ts'
import { toReport, type AppError } from '../../errors/app-error.ts'
import type { RequestOf, ResponseOf } from '../../contract/calls.ts'
import type { Board } from '../../model/board.ts'
import type { CardFile } from '../../model/plan.ts'
import type { TargetListing, TargetPlace } from '../../model/target.ts'
import type { RunControl } from '../../ports/progress.ts'
import { layOutCard } from '../lay-out-card.ts'
import { namedContent } from '../named-content.ts'
import { preparedOrderOf } from '../prepare/prepared-order.ts'
import { placeOfTarget } from './place-of-target.ts'
import { recordedFilesAt } from './recorded-files.ts'
import { contentHeldAt } from './target-holds.ts'
import type { TargetPorts } from './target-ports.ts'
import { cautionsOf, placeRefusal, volumeRefusal } from './target-refusals.ts'

/** Most strangers that a report names. */
const NAMED_STRANGERS = 100

/**
 * What stands for and against writing to a target, before anything is written: by its volume, its
 * names and sizes, without reading a file. What was changed and kept its size is only found when it is
 * written to.
 *
 * @throws AppError those of `CardTargets.place` and `list`, of `preparedOrderOf`, `namedContent`; Cancelled
 */
export async function judgeTarget(
  request: RequestOf<'targets:judge'>,
  ports: TargetPorts,
  control: RunControl,
): Promise<ResponseOf<'targets:judge'>> {
  const wanted = await wantedOf(request, ports)
  const place = await placeOfTarget(request.into, ports)
  const { volume } = place
  const forbidden = placeRefusal(place)
  const listing = forbidden === null ? await listed(place, wanted?.files ?? [], ports, control) : NOTHING
  const contents = listing.files.length === 0 ? [] : await ports.database.records.listContents()
  const known = [...recordedFilesAt(listing, contents), ...(wanted?.files ?? [])]
  const strangers = strangersByName(listing, known)
  const needed =
    wanted === null || wanted.files.length === 0 || volume.clusterBytes === null
      ? null
      : neededBytes(wanted.files, volume.clusterBytes)
  const refusal = forbidden ?? refusalOf(place, wanted, listing, needed)
  const needsReplace = refusal === null && strangers.length > 0 && request.replace !== true
  const told = needsReplace ? strangersThere(strangers) : refusal
  return {
    into: place.path,
    kind: place.kind,
    fileSystem: volume.fileSystem,
    clusterBytes: volume.clusterBytes,
    sizeBytes: volume.sizeBytes,
    freeBytes: volume.freeBytes,
    keepsOrder: volume.isFat,
    neededBytes: needed,
    holds: forbidden === null ? await contentHeldAt(place.path, ports) : null,
    strangers: strangers.slice(0, NAMED_STRANGERS),
    strangerCount: strangers.length,
    refusal: told === null ? null : withPlace(told, place.path),
    needsReplace,
    cautions:
      forbidden === null
        ? [...cautionsOf(place, wanted?.board ?? null), ...roomCautions(place, listing, needed)]
        : [],
  }
}

interface Wanted {
  readonly board: Board
  readonly files: readonly CardFile[]
}

/** What would be written, where the request names it. */
async function wantedOf(
  { content, boardId, editionIds, buildCode, cardBytes }: RequestOf<'targets:judge'>,
  ports: TargetPorts,
): Promise<Wanted | null> {
  if (content !== undefined) {
    const { files, boardId: board } = await namedContent(content, ports.database.records)
    return { files, board: (await ports.getBoard(board)).board }
  }
  if (editionIds === undefined && buildCode === undefined) {
    return boardId === undefined ? null : { files: [], board: (await ports.getBoard(boardId)).board }
  }
  const order = await preparedOrderOf({ boardId, editionIds, buildCode }, ports)
  const { plan } = await layOutCard(order, cardBytes ?? null, ports)
  return { board: order.board, files: plan.files }
}

const NOTHING: TargetListing = {
  files: [],
  folders: [],
  emptyFolders: [],
  others: [],
  litter: [],
  leftovers: [],
}

function listed(
  place: TargetPlace,
  files: readonly CardFile[],
  ports: TargetPorts,
  control: RunControl,
): Promise<TargetListing> {
  return ports.targets.list(place.path, plannedPaths(files), control)
}

/** Files and folders that are never litter, whatever they are called. */
export function plannedPaths(files: readonly { readonly path: string }[]): readonly string[] {
  return [...files.map(({ path }) => path), ...foldersOf(files)]
}

function refusalOf(
  place: TargetPlace,
  wanted: Wanted | null,
  listing: TargetListing,
  needed: number | null,
): AppError | null {
  if (wanted === null) return null
  const rootSlots = wanted.files.length === 0 ? 0 : treeOf(wanted.files).slotCount
  const byVolume = volumeRefusal(place, wanted.board, rootSlots)
  if (byVolume !== null || needed === null) return byVolume
  const { freeBytes, clusterBytes } = place.volume
  if (freeBytes === null || clusterBytes === null) return null
  // What is there may stay or go; either way its clusters serve the new content.
  const there = listing.files.reduce(
    (sum, { sizeBytes }) => sum + Math.ceil(sizeBytes / clusterBytes) * clusterBytes,
    0,
  )
  return needed > freeBytes + there ? tooFull(needed, freeBytes + there, clusterBytes) : null
}

/** What was there stays until the new is read back, but for want of room. */
function roomCautions(
  { volume }: TargetPlace,
  listing: TargetListing,
  needed: number | null,
): readonly string[] {
  const isEnough = needed === null || volume.freeBytes === null || needed <= volume.freeBytes
  if (isEnough || listing.files.length === 0) return []
  return [
    'There may not be room for what is there beside the new content: then it is removed first, and a run that is broken off leaves neither.',
  ]
}

function strangersByName(
  listing: TargetListing,
  known: readonly { readonly path: string; readonly sizeBytes: number }[],
): readonly string[] {
  const isKnown = new Set(known.map(({ path, sizeBytes }) => `${sizeBytes} ${nameKey(path)}`))
  const isFolder = new Set(foldersOf(known).map(nameKey))
  return [
    ...listing.files
      .filter(({ path, sizeBytes }) => !isKnown.has(`${sizeBytes} ${nameKey(path)}`))
      .map(({ path }) => path),
    ...listing.others,
    ...listing.emptyFolders.filter((path) => !isFolder.has(nameKey(path))),
  ]
}

function withPlace(error: AppError, where: string) {
  const { kind: _kind, ...told } = toReport(error)
  return { ...told, where: error.where === '' ? where : error.where }
}
