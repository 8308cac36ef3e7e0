import type { TargetFolder } from '../../ports/target-folder.ts'
import { SEATING_FOLDER, TEMPORARY_FOLDER } from './list-target.ts'
import type { PlannedTop } from './planned-tops.ts'
import { removeTree } from './remove-from-target.ts'

/** Files that were right already join the new ones of their font's folder, in play order. */
export function joinWithRight(top: PlannedTop, right: ReadonlySet<string>, target: TargetFolder): void {
  if (!top.isFolder || !top.files.some(({ path }) => right.has(path))) return
  const fresh = `${TEMPORARY_FOLDER}/${SEATING_FOLDER}`
  const made = new Set<string>()
  for (const { path } of top.files) {
    const below = path.slice(top.name.length)
    makeFolders(`${fresh}${below}`, made, target)
    target.rename(right.has(path) ? path : `${TEMPORARY_FOLDER}/${path}`, `${fresh}${below}`)
    target.sync(`${fresh}${below}`)
  }
  removeTree(target, `${TEMPORARY_FOLDER}/${top.name}`)
  target.rename(fresh, `${TEMPORARY_FOLDER}/${top.name}`)
}

/** Makes the folders that a path lies in, below the temporary one, unless they were made before. */
export function makeFolders(path: string, made: Set<string>, target: TargetFolder): void {
  for (let at = path.indexOf('/', TEMPORARY_FOLDER.length + 1); at !== -1; at = path.indexOf('/', at + 1)) {
    const folder = path.slice(0, at)
    if (made.has(folder)) continue
    target.makeFolder(folder)
    made.add(folder)
  }
}
