import { AppError } from '../../app/errors/app-error.ts'
import { isShortName, shortNamesOf } from '../../app/cards/short-names.ts'
import type { FileToWrite, TargetEntry, TargetFolder } from '../../app/ports/target-folder.ts'

/** What ends a run without any cleaning up: the process is gone, or the card is. */
export class Killed extends Error {}

type Node = File | Folder
interface File {
  kind: 'file'
  sizeBytes: number
  sha256: string
}
/** Slots as a FAT has them: a name takes as many in a row as its length asks for. */
interface Folder {
  kind: 'folder'
  slots: (Named | 'label' | null)[]
}
interface Named {
  name: string
  node: Node
}

export interface FatFolderOptions {
  readonly clusterBytes?: number
  readonly clusters?: number
  /** Where the root holds the volume's label; it never moves. */
  readonly labelSlot?: number
}

/**
 * A folder on a FAT, in memory: new names take the first free slots that are enough for them, and what
 * is removed leaves a gap, as FAT drivers do. It can be filled up, and killed at any step.
 */
export class FatFolder implements TargetFolder {
  readonly #root: Folder = { kind: 'folder', slots: [] }
  readonly #clusterBytes: number
  readonly #clusters: number
  #stepsLeft = Infinity
  #stop: () => Error = () => new Killed('killed')
  steps = 0

  constructor({ clusterBytes = 512, clusters = 1_000_000, labelSlot }: FatFolderOptions = {}) {
    this.#clusterBytes = clusterBytes
    this.#clusters = clusters
    if (labelSlot !== undefined) {
      this.#root.slots = [...Array.from({ length: labelSlot }, () => null), 'label']
    }
  }

  /** From so many steps on everything fails. */
  stopAfter(steps: number, error: () => Error = () => new Killed('killed')): void {
    this.#stepsLeft = steps
    this.#stop = error
  }

  goOn(): void {
    this.#stepsLeft = Infinity
  }

  list(path: string): readonly TargetEntry[] {
    this.#step()
    return namedOf(this.#folder(path)).map(({ name, node }) => ({
      name,
      kind: node.kind,
      sizeBytes: node.kind === 'file' ? node.sizeBytes : 0,
    }))
  }

  makeFolder(path: string): void {
    this.#step()
    this.#add(path, { kind: 'folder', slots: [] })
  }

  writeFile({ sizeBytes, sha256 }: FileToWrite, path: string, onBytes: (bytes: number) => void): void {
    this.#step()
    const file: File = { kind: 'file', sizeBytes: Math.floor(sizeBytes / 2), sha256: 'half' }
    this.#add(path, file)
    this.#step()
    Object.assign(file, { sizeBytes, sha256 })
    this.#requireRoom()
    onBytes(sizeBytes)
  }

  hashFile(path: string, onBytes: (bytes: number) => void): string {
    this.#step()
    const file = this.#find(path)
    if (file?.kind !== 'file') throw new RangeError(`no file ${path}`)
    onBytes(file.sizeBytes)
    return file.sha256
  }

  rename(from: string, to: string): void {
    this.#step()
    const node = this.#find(from)
    if (node === undefined) throw new RangeError(`nothing to rename: ${from}`)
    this.#add(to, node)
    this.#remove(from)
  }

  removeFile(path: string): void {
    this.#step()
    if (this.#find(path)?.kind !== 'file') throw new RangeError(`no file ${path}`)
    this.#remove(path)
  }

  removeFolder(path: string): void {
    this.#step()
    if (namedOf(this.#folder(path)).length > 0) throw new RangeError(`not empty: ${path}`)
    this.#remove(path)
  }

  sync(): void {
    this.#step()
  }

  room(): { freeBytes: number; clusterBytes: number } {
    this.#step()
    const free = this.#clusters - this.#usedClusters(this.#root)
    return { freeBytes: free * this.#clusterBytes, clusterBytes: this.#clusterBytes }
  }

  /** Every file with its hash, in the order of the directories. */
  files(): readonly (readonly [path: string, sha256: string])[] {
    const files: (readonly [string, string])[] = []
    const walk = (folder: Folder, below: string): void => {
      for (const { name, node } of namedOf(folder)) {
        if (node.kind === 'file') files.push([below + name, node.sha256])
        else walk(node, `${below}${name}/`)
      }
    }
    walk(this.#root, '')
    return files
  }

  /** Names of the root in its order. */
  rootNames(): readonly string[] {
    return namedOf(this.#root).map(({ name }) => name)
  }

  #step(): void {
    this.steps++
    if (this.#stepsLeft-- <= 0) throw this.#stop()
  }

  #add(path: string, node: Node): void {
    const { parent, name } = this.#parentOf(path)
    if (find(parent, name) !== undefined) throw new RangeError(`name is taken: ${path}`)
    const wanted = isShortName(name, shortNamesOf([name])[0] ?? '') ? 1 : 1 + Math.ceil(name.length / 13)
    const slots = parent.slots
    let at = 0
    while (slots.slice(at, at + wanted).some((slot) => slot !== null)) at++
    while (slots.length < at + wanted) slots.push(null)
    slots.fill({ name, node }, at, at + wanted)
    this.#requireRoom()
  }

  #remove(path: string): void {
    const { parent, name } = this.#parentOf(path)
    parent.slots = parent.slots.map((slot) =>
      slot !== null && slot !== 'label' && slot.name === name ? null : slot,
    )
  }

  #parentOf(path: string): { parent: Folder; name: string } {
    const slash = path.lastIndexOf('/')
    return { parent: this.#folder(path.slice(0, Math.max(0, slash))), name: path.slice(slash + 1) }
  }

  #folder(path: string): Folder {
    const node = path === '' ? this.#root : this.#find(path)
    if (node?.kind !== 'folder') throw new RangeError(`no folder ${path}`)
    return node
  }

  #find(path: string): Node | undefined {
    let node: Node | undefined = this.#root
    for (const name of path.split('/')) node = node?.kind === 'folder' ? find(node, name) : undefined
    return node
  }

  #requireRoom(): void {
    if (this.#usedClusters(this.#root) <= this.#clusters) return
    throw new AppError({ code: 'target/disk-full', what: 'Full.', where: '', mend: '' })
  }

  /** @param seen while something is renamed, two names stand for it */
  #usedClusters(node: Node, seen = new Set<Node>()): number {
    if (seen.has(node)) return 0
    seen.add(node)
    if (node.kind === 'file') return Math.ceil(node.sizeBytes / this.#clusterBytes)
    const own = Math.max(1, Math.ceil(((node.slots.length + 2) * 32) / this.#clusterBytes))
    return namedOf(node).reduce((sum, named) => sum + this.#usedClusters(named.node, seen), own)
  }
}

/** Each name once, in the order of the slots. */
function namedOf({ slots }: Folder): readonly Named[] {
  return [...new Set(slots)].filter((slot) => slot !== null && slot !== 'label')
}

/** As a card tells names apart. */
function find(folder: Folder, name: string): Node | undefined {
  return namedOf(folder).find((named) => named.name.toUpperCase() === name.toUpperCase())?.node
}
