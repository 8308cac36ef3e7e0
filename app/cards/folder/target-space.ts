import { AppError } from '../../errors/app-error.ts'
import { inUnits } from '../../model/in-units.ts'
import type { CardFile } from '../../model/plan.ts'
import type { TargetFolder } from '../../ports/target-folder.ts'
import { allocatedClusters } from '../allocated-clusters.ts'
import { demandOf } from '../card-demand.ts'
import { treeOf } from '../card-tree.ts'

/** Bytes that files take on a volume of such clusters, their folders and the temporary one among them. */
export function neededBytes(files: readonly CardFile[], clusterBytes: number): number {
  if (files.length === 0) return 0
  return (demandOf(treeOf(files), 'fat32', clusterBytes).clusters + 1) * clusterBytes
}

/**
 * Whether there is room for the new beside the old, by the target's own clusters.
 *
 * @param toRemove sizes of what may go before the new comes
 * @returns false where the old must go first
 * @throws AppError `target/too-full` where even then there is none
 */
export function isRoomForBoth(
  toWrite: readonly CardFile[],
  toRemove: readonly { readonly sizeBytes: number }[],
  target: Pick<TargetFolder, 'room'>,
): boolean {
  const room = target.room()
  if (room === null) return true
  const { freeBytes, clusterBytes } = room
  const needed = neededBytes(toWrite, clusterBytes)
  if (needed <= freeBytes) return true
  const freed = toRemove.reduce(
    (sum, { sizeBytes }) => sum + allocatedClusters(sizeBytes, clusterBytes) * clusterBytes,
    0,
  )
  if (needed <= freeBytes + freed) return false
  throw tooFull(needed, freeBytes + freed, clusterBytes)
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
