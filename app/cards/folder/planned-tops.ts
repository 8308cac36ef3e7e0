import type { TargetListing } from '../../model/target.ts'
import type { CardFile } from '../../model/plan.ts'
import { nameKey } from '../card-name.ts'

/** One name of the root, with all that is to be below it: a font's folder, or a single file. */
export interface PlannedTop {
  readonly name: string
  readonly isFolder: boolean
  /** In plan order. */
  readonly files: readonly CardFile[]
}

/** The names of the root in plan order. */
export function plannedTops(files: readonly CardFile[]): readonly PlannedTop[] {
  const tops = new Map<string, { name: string; isFolder: boolean; files: CardFile[] }>()
  for (const file of files) {
    const name = topOf(file.path)
    const top = tops.get(name) ?? { name, isFolder: name !== file.path, files: [] }
    top.files.push(file)
    tops.set(name, top)
  }
  return [...tops.values()]
}

/** The first step of a path. */
export function topOf(path: string): string {
  const slash = path.indexOf('/')
  return slash === -1 ? path : path.slice(0, slash)
}

/** Whether two paths lie below names that a card could not tell apart. */
export function isSameTop(path: string, name: string): boolean {
  return nameKey(topOf(path)) === nameKey(name)
}

/** Every folder that these files need, each after the one it lies in, in the order of first mention. */
export function foldersOf(files: readonly { readonly path: string }[]): readonly string[] {
  const folders = new Set<string>()
  for (const { path } of files) {
    for (let at = path.indexOf('/'); at !== -1; at = path.indexOf('/', at + 1)) folders.add(path.slice(0, at))
  }
  return [...folders]
}

/**
 * Whether a name of the root can stay as it is: every file right, nothing besides, and, where the file
 * system keeps it, the order too.
 */
export function isTopRight(
  top: PlannedTop,
  listing: TargetListing,
  right: ReadonlySet<string>,
  keepsOrder: boolean,
): boolean {
  const there = listing.files.filter(({ path }) => isSameTop(path, top.name)).map(({ path }) => path)
  if (there.length !== top.files.length || !top.files.every(({ path }) => right.has(path))) return false
  if (listing.others.some((path) => isSameTop(path, top.name))) return false
  const folders = listing.folders.filter((path) => isSameTop(path, top.name))
  if (folders.length !== foldersOf(top.files).length) return false
  return !keepsOrder || top.files.every(({ path }, index) => there[index] === path)
}

/**
 * How the order of a target's root differs from the plan's, as a sentence; null where it does not.
 * Names that are not planned do not count.
 */
export function rootOrderFault(tops: readonly string[], rootNames: readonly string[]): string | null {
  const planned = new Set(tops)
  const found = rootNames.filter((name) => planned.has(name))
  const at = tops.findIndex((name, index) => found[index] !== name)
  if (at === -1) return null
  return `"${found[at] ?? ''}" stands where "${tops[at] ?? ''}" should: the folder's entries are not in play order.`
}
