import { treeOf } from '../../cards/card-tree.ts'
import { AppError } from '../../errors/app-error.ts'
import type { ResponseOf } from '../../contract/calls.ts'
import type { Board } from '../../model/board.ts'
import type { Content } from '../../model/content.ts'
import type { CardFile } from '../../model/plan.ts'
import type { TargetPlace } from '../../model/target.ts'
import type { RunControl } from '../../ports/progress.ts'
import { sourcePathsOf } from '../card-bytes.ts'
import { withDamageInWords } from '../damaged-copy.ts'
import { verifyAgainst, type Verified } from '../verify-image.ts'
import { plannedPaths } from './judge-target.ts'
import { nextSteps } from './next-steps.ts'
import { placeOfTarget } from './place-of-target.ts'
import { recordedFilesAt } from './recorded-files.ts'
import { unrecordedDocumentsAt } from './unrecorded-documents.ts'
import type { TargetPorts } from './target-ports.ts'
import { placeRefusal, volumeRefusal } from './target-refusals.ts'

export type WrittenFolder = ResponseOf<'make:into'>['written']

/** A target that may be written to, held so that nobody else of this workshop does. */
export interface HeldTarget {
  readonly place: TargetPlace
  release(): Promise<void>
}

/**
 * Finds a target and refuses it before anything is done where its place or volume forbids it.
 *
 * @param board whose card it is to be; null where it is not known any more
 * @throws AppError `target/system`, `target/library-folder`, `target/file-system`, `target/too-large`,
 *   `target/root-full`, `lock/held`; those of `CardTargets.place`
 */
export async function holdTarget(
  into: string,
  files: readonly CardFile[],
  board: Board | null,
  ports: TargetPorts,
): Promise<HeldTarget> {
  const place = await placeOfTarget(into, ports)
  const refusal =
    placeRefusal(place) ?? (board === null ? null : volumeRefusal(place, board, treeOf(files).slotCount))
  if (refusal !== null) throw refusal
  const lock = await ports.locks.acquire(`target ${place.path}`, 'writing to this card or folder')
  return { place, release: () => lock.release() }
}

/**
 * Makes a target hold a content and reads it back.
 *
 * @throws AppError `target/not-verified`; those of `CardTargets.fill`; Cancelled
 */
export async function writeToTarget(
  content: Content,
  { place }: HeldTarget,
  options: { readonly replace: boolean; readonly countsByEntry: boolean },
  ports: TargetPorts,
  control: RunControl,
): Promise<{ readonly written: WrittenFolder; readonly verified: Verified }> {
  const { path, kind, volume } = place
  const listing = await ports.targets.list(path, plannedPaths(content.files), control)
  const contents = listing.files.length === 0 ? [] : await ports.database.records.listContents()
  const order = {
    planned: content.files,
    known: [
      ...recordedFilesAt(listing, contents),
      ...(await unrecordedDocumentsAt(path, listing, content, ports, control)),
    ],
    mayReplace: options.replace,
    keepsOrder: volume.isFat,
  }
  const sourcePaths = await sourcePathsOf(content.files, ports)
  const filled = await withDamageInWords(content, ports.store, () =>
    ports.targets.fill(path, order, sourcePaths, control),
  )
  const verified = await verifyAgainst(content, path, 'folder', ports, control, options.countsByEntry)
  if (!verified.isVerified) throw notVerified(path, verified)
  const next = nextSteps(place, content.fingerprint)
  return { written: { into: path, kind, fileSystem: volume.fileSystem, ...filled, next }, verified }
}

function notVerified(path: string, { missing, changed, added, faults }: Verified): AppError {
  const first = faults[0] ?? missing[0] ?? changed[0] ?? added[0] ?? ''
  return new AppError({
    code: 'target/not-verified',
    what: `It was written and does not read back as planned (${first}); nothing was recorded.`,
    where: path,
    mend: 'Run it again; if it stays so, format the card anew, which gives its folder a fresh order of entries, or take another card.',
    kind: 'machine',
  })
}
