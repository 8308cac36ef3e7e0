import { isLitterFolder, kindOfFile } from './file-kinds.ts'
import type { RoleReading } from './role-reading.ts'

/** One folder of a tree, by names alone. */
export interface TreeFolder {
  /** From the tree's top, `/`-joined; empty for the top itself. Parents come before their children. */
  readonly path: string
  readonly names: readonly string[]
  readonly litterFolders: readonly string[]
}

/** A file of an edition: where it stands in the tree, and its path inside the edition. */
export interface TreeFile {
  readonly folder: number
  readonly file: number
  readonly path: string
}

export interface FoundEdition {
  /** Its folder, from the tree's top. */
  readonly path: string
  readonly sounds: readonly TreeFile[]
  readonly companions: readonly TreeFile[]
  readonly litter: readonly string[]
}

/**
 * Finds the editions of a tree.
 *
 * - A folder with sounds is an edition and takes its sub-folders in.
 * - A folder without, most of whose sub-folders with sounds are named as roles, is one edition.
 * - Inside an edition, a sub-folder that spells a font by itself is an edition of its own: its own
 *   sounds spell a hum or two different roles, or it is made of role folders. One that is itself
 *   named as a role never is.
 *
 * Sorted by path; files sorted by their paths inside the edition.
 */
export function findEditions(folders: readonly TreeFolder[], roles: RoleReading): readonly FoundEdition[] {
  const tree = branchesOf(folders)
  const found: FoundEdition[] = []
  for (const top of tree.tops) visit(top, { tree, roles, found })
  return found.sort((a, b) => byText(a.path, b.path))
}

interface Branch {
  readonly index: number
  readonly path: string
  readonly name: string
  readonly names: readonly string[]
  readonly litterFolders: readonly string[]
  readonly children: Branch[]
  readonly hasSounds: boolean
  /** Here or anywhere below. */
  bearsSounds: boolean
}
interface Visit {
  readonly tree: { readonly tops: readonly Branch[] }
  readonly roles: RoleReading
  readonly found: FoundEdition[]
}

function branchesOf(folders: readonly TreeFolder[]): { readonly tops: readonly Branch[] } {
  const byPath = new Map<string, Branch>()
  const tops: Branch[] = []
  for (const [index, { path, names, litterFolders }] of folders.entries()) {
    const slash = path.lastIndexOf('/')
    const hasSounds = names.some((name) => kindOfFile(name) === 'sound')
    const branch: Branch = {
      index,
      path,
      name: path.slice(slash + 1),
      names,
      litterFolders,
      children: [],
      hasSounds,
      bearsSounds: hasSounds,
    }
    byPath.set(path, branch)
    const parent = path === '' ? undefined : byPath.get(slash < 0 ? '' : path.slice(0, slash))
    if (parent === undefined) tops.push(branch)
    else parent.children.push(branch)
  }
  for (const branch of [...byPath.values()].reverse()) {
    branch.bearsSounds ||= branch.children.some((child) => child.bearsSounds)
  }
  return { tops }
}

function visit(branch: Branch, context: Visit): void {
  if (!branch.bearsSounds) return
  if (branch.hasSounds || isMadeOfRoleFolders(branch, context.roles)) takeEdition(branch, context)
  else for (const child of branch.children) visit(child, context)
}

function takeEdition(top: Branch, context: Visit): void {
  const sounds: TreeFile[] = []
  const companions: TreeFile[] = []
  const litter: string[] = []
  const cut = top.path === '' ? 0 : top.path.length + 1
  const take = (branch: Branch): void => {
    const inside = branch === top ? '' : `${branch.path.slice(cut)}/`
    for (const [file, name] of branch.names.entries()) {
      const kind = kindOfFile(name)
      const path = inside + name
      if (kind === 'litter') litter.push(path)
      else if (kind === 'sound') sounds.push({ folder: branch.index, file, path })
      else if (kind === 'companion') companions.push({ folder: branch.index, file, path })
    }
    for (const name of branch.litterFolders) litter.push(`${inside}${name}/`)
    for (const child of branch.children) {
      if (isFontOfItsOwn(child, context.roles)) takeEdition(child, context)
      else take(child)
    }
  }
  take(top)
  sounds.sort((a, b) => byText(a.path, b.path))
  companions.sort((a, b) => byText(a.path, b.path))
  context.found.push({ path: top.path, sounds, companions, litter: litter.sort(byText) })
}

/** A few role folders among many others may be chance: `music` beside fifty fonts is a font. */
function isMadeOfRoleFolders(branch: Branch, roles: RoleReading): boolean {
  const bearing = branch.children.filter((child) => child.bearsSounds)
  const named = bearing.filter((child) => roles.isRoleName(child.name)).length
  return named * 2 > bearing.length
}

function isFontOfItsOwn(branch: Branch, roles: RoleReading): boolean {
  if (!branch.bearsSounds || isLitterFolder(branch.name) || roles.isRoleName(branch.name)) return false
  if (!branch.hasSounds) return isMadeOfRoleFolders(branch, roles)
  const { places } = roles.readRoles(branch.names.filter((name) => kindOfFile(name) === 'sound'))
  const spelled = new Set(places.map((place) => place?.role).filter((role) => role !== undefined))
  return spelled.has('hum') || spelled.size >= 2
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
