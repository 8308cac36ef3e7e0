import { isLitterFolder } from './file-kinds.ts'
import type { TreeFolder } from './find-editions.ts'

/** A tree built from the paths of an archive's entries. */
export interface PathTree {
  readonly folders: readonly TreeFolder[]
  /** Which path stands behind file `n` of folder `m`: an index into the paths given. */
  readonly origins: readonly (readonly number[])[]
}

interface Growing {
  readonly path: string
  readonly names: string[]
  readonly origins: number[]
  readonly litterFolders: Set<string>
}

/** Folders come sorted, which puts parents before their children; what lies in litter is left out. */
export function treeOfPaths(paths: readonly string[]): PathTree {
  const folders = new Map<string, Growing>()
  const folderAt = (path: string): Growing => {
    const known = folders.get(path)
    if (known !== undefined) return known
    const folder: Growing = { path, names: [], origins: [], litterFolders: new Set() }
    folders.set(path, folder)
    if (path !== '') folderAt(parentOf(path))
    return folder
  }
  folderAt('')
  for (const [index, path] of paths.entries()) {
    const parts = path.split('/')
    const litterAt = parts.slice(0, -1).findIndex(isLitterFolder)
    if (litterAt >= 0) {
      folderAt(parts.slice(0, litterAt).join('/')).litterFolders.add(parts[litterAt] ?? '')
      continue
    }
    const folder = folderAt(parentOf(path))
    folder.names.push(parts.at(-1) ?? '')
    folder.origins.push(index)
  }
  const sorted = [...folders.values()].sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0))
  return {
    folders: sorted.map(({ path, names, litterFolders }) => ({
      path,
      names,
      litterFolders: [...litterFolders].sort(),
    })),
    origins: sorted.map(({ origins }) => origins),
  }
}

function parentOf(path: string): string {
  const slash = path.lastIndexOf('/')
  return slash < 0 ? '' : path.slice(0, slash)
}
