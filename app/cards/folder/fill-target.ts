import { AppError } from '../../errors/app-error.ts'
import type { FilledTarget, TargetListing } from '../../model/target.ts'
import type { FillJob } from '../../ports/card-targets.ts'
import type { Progress } from '../../ports/progress.ts'
import type { TargetFolder } from '../../ports/target-folder.ts'
import { bytesToJudge, judgeFiles, type JudgedFiles } from './judge-files.ts'
import { listTarget, TEMPORARY_FOLDER, type ListingRules } from './list-target.ts'
import { foldersOf, isTopRight, plannedTops } from './planned-tops.ts'
import { joinWithRight } from './put-in-place.ts'
import { removeEmptied, removeFiles, removeLitter, removeTree } from './remove-from-target.ts'
import { seatAnewIfNeeded } from './seat-anew.ts'
import { isRoomForBoth } from './target-space.ts'
import { writeTops } from './write-tops.ts'

export interface FillControl {
  isLitter: ListingRules['isLitter']
  cancel(): void
  onProgress(progress: Progress): void
}

/**
 * Makes a target hold exactly what is planned.
 *
 * All that is new is written into one temporary folder, each font's folder with its files in play
 * order, and read back from there; until then what was there stays, unless there is no room for both.
 * Then each name of the root gets its place by one renaming, in play order. Whatever breaks this off
 * leaves a target that the next run makes right.
 *
 * @throws AppError `target/strangers`, `target/too-full`, `target/not-verified`, `target/no-card`;
 *   those of `TargetFolder`; Cancelled
 */
export function fillTarget(job: FillJob, target: TargetFolder, control: FillControl): FilledTarget {
  const paths = new Set([...job.planned.map(({ path }) => path), ...foldersOf(job.planned)])
  const isLitter = control.isLitter
  const listing = listTarget(target, {
    isLitter,
    isPlanned: (path) => paths.has(path),
    cancel: control.cancel,
  })
  const { right, recorded, strangers } = judged(job, listing, target, control)
  if (strangers.length > 0 && !job.mayReplace) throw strangersThere(strangers)

  const tops = plannedTops(job.planned)
  const wrongTops = tops.filter((top) => !isTopRight(top, listing, right, job.keepsOrder))
  const toWrite = wrongTops.flatMap((top) => top.files.filter(({ path }) => !right.has(path)))
  const toRemove = [...recorded, ...strangers]
  const isGoing = new Set(toRemove)
  for (const name of listing.leftovers) removeTree(target, name)
  const goingFiles = listing.files.filter(({ path }) => isGoing.has(path))
  const mustGoFirst = !isRoomForBoth(wrongTops, right, goingFiles, target)
  if (mustGoFirst) removeFiles(target, toRemove, listing)
  if (wrongTops.length > 0) {
    writeOrDiscard(() => writeTops(wrongTops, right, target, control.onProgress), target)
  }

  // From here on only names change: that is quick, and no cancelling stops it half way.
  for (const top of wrongTops) joinWithRight(top, right, target)
  if (!mustGoFirst) removeFiles(target, toRemove, listing)
  removeEmptied(target, listing, isLitter)
  for (const { name } of wrongTops) {
    target.rename(`${TEMPORARY_FOLDER}/${name}`, name)
    target.sync(name)
  }
  target.sync('')
  const litterRemoved = removeLitter(listing, target)
  const topNames = tops.map(({ name }) => name)
  const wasReseated = job.keepsOrder && seatAnewIfNeeded(topNames, target)
  if (wrongTops.length > 0 && !wasReseated) target.removeFolder(TEMPORARY_FOLDER)
  target.sync('')
  return {
    filesWritten: toWrite.length,
    bytesWritten: toWrite.reduce((sum, { sizeBytes }) => sum + sizeBytes, 0),
    filesLeft: job.planned.length - toWrite.length,
    removed: toRemove,
    litterRemoved,
    wasReseated,
  }
}

function judged(
  job: FillJob,
  listing: TargetListing,
  target: TargetFolder,
  { onProgress }: FillControl,
): JudgedFiles {
  const total = bytesToJudge(listing, job)
  let done = 0
  return judgeFiles(listing, job, target, (bytes, current) => {
    done += bytes
    onProgress({ phase: 'looking at the target', done, total, unit: 'bytes', current })
  })
}

/** What was there stays as it was where the writing fails. */
function writeOrDiscard(write: () => void, target: TargetFolder): void {
  try {
    write()
  } catch (error) {
    try {
      removeTree(target, TEMPORARY_FOLDER)
    } catch {
      // The first fault is the one to tell; the next run removes what is left.
    }
    throw error
  }
}

const NAMED_STRANGERS = 5

/** @param strangers those that are named, of `count` in all */
export function strangersThere(strangers: readonly string[], count = strangers.length): AppError {
  const named = strangers.slice(0, NAMED_STRANGERS).map((path) => `"${path}"`)
  const more = count - named.length
  return new AppError({
    code: 'target/strangers',
    what: `It holds what is neither to be on this card nor on record, or was changed since: ${named.join(', ')}${more > 0 ? ` and ${more} more` : ''}.`,
    where: '',
    mend: 'Copy what is wanted elsewhere first; then say that it may be replaced, which removes it for good, or choose an empty card or folder.',
    kind: 'unmet',
  })
}
