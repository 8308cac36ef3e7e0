import { AppError } from '../../errors/app-error.ts'
import { inUnits } from '../../model/in-units.ts'
import type { CardFile } from '../../model/plan.ts'
import type { TargetFolder } from '../../ports/target-folder.ts'
import { allocatedClusters } from '../allocated-clusters.ts'
import { demandOf } from '../card-demand.ts'
import { treeOf } from '../card-tree.ts'
import type { PlannedTop } from './planned-tops.ts'

/** Bytes that files take on a volume of such clusters, their folders and the temporary one among them. */
export function neededBytes(files: readonly CardFile[], clusterBytes: number): number {
  if (files.length === 0) return 0
  return (demandOf(treeOf(files), 'fat32', clusterBytes).clusters + 1) * clusterBytes
}

/**
 * Whether there is room for the new beside the old, by the target's own clusters.
 *
 * @param tops names of the root that are not as they are to be
 * @param right paths whose bytes need not be written
 * @param toRemove what may go before the new comes
 * @returns false where the old must go first
 * @throws AppError `target/too-full` where even then there is none
 */
export function isRoomForBoth(
  tops: readonly PlannedTop[],
  right: ReadonlySet<string>,
  toRemove: readonly { readonly sizeBytes: number }[],
  target: Pick<TargetFolder, 'room'>,
): boolean {
  const room = target.room()
  if (room === null || tops.length === 0) return true
  const { freeBytes, clusterBytes } = room
  const written = tops.flatMap(({ files }) => files.map((file) => withoutBytes(file, right.has(file.path))))
  // Where files stay, their font's folder is made twice: for what is new, and for what joins it.
  const joined = tops
    .filter(({ files }) => files.some(({ path }) => right.has(path)))
    .flatMap(({ files }) => files.map((file) => withoutBytes(file, true)))
  const needed = neededBytes(written, clusterBytes) + neededBytes(joined, clusterBytes)
  if (needed <= freeBytes) return true
  const freed = toRemove.reduce(
    (sum, { sizeBytes }) => sum + allocatedClusters(sizeBytes, clusterBytes) * clusterBytes,
    0,
  )
  if (needed <= freeBytes + freed) return false
  throw tooFull(needed, freeBytes + freed, clusterBytes)
}

function withoutBytes(file: CardFile, isWithout: boolean): CardFile {
  return isWithout ? { ...file, sizeBytes: 0 } : file
}

/** @param freeBytes what is free, and what would be once a former content is gone */
export function tooFull(needed: number, freeBytes: number, clusterBytes: number): AppError {
  return new AppError({
    code: 'target/too-full',
    what: `${inUnits(needed)} (${needed} bytes in clusters of ${inUnits(clusterBytes)}) must be written and ${inUnits(freeBytes)} (${freeBytes} bytes) are free: ${needed - freeBytes} bytes are missing.`,
    where: '',
    mend: 'Leave a font out, take away what else is on it, or use a larger card.',
    kind: 'unmet',
  })
}
