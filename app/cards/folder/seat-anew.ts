import type { TargetFolder } from '../../ports/target-folder.ts'
import { SEATING_FOLDER, TEMPORARY_FOLDER } from './list-target.ts'
import { rootOrderFault } from './planned-tops.ts'

/**
 * Brings the names of the root into play order where they are not.
 *
 * A new name takes the first free places of a directory that are enough for it, so in a directory with
 * gaps a short name can land before an earlier long one. Everything is therefore moved into a folder
 * that sits in front of all gaps, and back in order: then one gap is left, and it is the whole rest.
 *
 * @param tops names of the root in play order; all of them are there
 * @returns whether that was needed
 */
export function seatAnewIfNeeded(tops: readonly string[], target: TargetFolder): boolean {
  const names = target.list('').map(({ name }) => name)
  if (rootOrderFault(tops, names) === null) return false
  if (!names.includes(TEMPORARY_FOLDER)) target.makeFolder(TEMPORARY_FOLDER)
  move(tops, '', TEMPORARY_FOLDER, target)
  target.makeFolder(SEATING_FOLDER)
  const now = target.list('').map(({ name }) => name)
  const [front, back] =
    now.indexOf(TEMPORARY_FOLDER) < now.indexOf(SEATING_FOLDER)
      ? [TEMPORARY_FOLDER, SEATING_FOLDER]
      : [SEATING_FOLDER, TEMPORARY_FOLDER]
  if (front === SEATING_FOLDER) move(tops, back, front, target)
  target.removeFolder(back)
  move(tops, front, '', target)
  target.removeFolder(front)
  return true
}

function move(tops: readonly string[], from: string, to: string, target: TargetFolder): void {
  const at = (folder: string, name: string) => (folder === '' ? name : `${folder}/${name}`)
  for (const name of tops) {
    target.rename(at(from, name), at(to, name))
    target.sync(at(to, name))
  }
  target.sync(to)
}
