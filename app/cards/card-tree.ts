import { AppError } from '../errors/app-error.ts'
import type { CardFile } from '../model/plan.ts'
import { nameKey, requireCardName } from './card-name.ts'
import { isShortName, shortNamesOf } from './short-names.ts'

/** A FAT directory ends at 65,536 slots (FAT 1.03, "Directory Structure": 2 MiB of them). */
export const MOST_FOLDER_SLOTS = 65_536
const LARGEST_FILE_BYTES = 2 ** 32 - 1
const UNITS_A_SLOT = 13

/** A name of the card's tree with its short name, before anything has a place. */
export type TreeEntry = TreeFile | TreeFolder

export interface TreeFile {
  readonly kind: 'file'
  readonly name: string
  readonly shortName: string
  readonly file: CardFile
}

export interface TreeFolder {
  readonly kind: 'folder'
  readonly name: string
  readonly shortName: string
  readonly path: string
  readonly entries: readonly TreeEntry[]
  readonly slotCount: number
}

/**
 * The folders that a list of files makes: a folder's entries in the order in which they are first
 * named.
 *
 * @throws AppError `card/name-refused`, `card/name-clash`, `card/file-too-large`, `card/folder-full`
 */
export function treeOf(files: readonly CardFile[]): TreeFolder {
  const root: Draft = { name: '', path: '', children: new Map() }
  for (const file of files) place(root, file)
  return finished(root, '           ')
}

interface Draft {
  readonly name: string
  readonly path: string
  /** By `nameKey`, in the order of first mention. */
  readonly children: Map<string, Draft | CardFile>
}

function place(root: Draft, file: CardFile): void {
  if (file.sizeBytes > LARGEST_FILE_BYTES) {
    throw new AppError({
      code: 'card/file-too-large',
      what: `The file has ${file.sizeBytes} bytes, and a file on a FAT card ends at ${LARGEST_FILE_BYTES} (4 GiB less one byte).`,
      where: file.path,
      mend: 'Shorten the sound or leave it out.',
    })
  }
  const parts = file.path.split('/')
  let folder = root
  parts.forEach((name, index) => {
    requireCardName(name, file.path)
    const path = parts.slice(0, index + 1).join('/')
    const isFile = index === parts.length - 1
    const there = folder.children.get(nameKey(name))
    if (there === undefined) {
      const made: Draft | CardFile = isFile ? file : { name, path, children: new Map() }
      folder.children.set(nameKey(name), made)
      if (!isFile) folder = made as Draft
      return
    }
    if (isFile || 'origin' in there || there.name !== name) throw clash(path, there.path)
    folder = there
  })
}

function clash(path: string, other: string): AppError {
  return new AppError({
    code: 'card/name-clash',
    what:
      path === other
        ? 'Two files would have this name.'
        : `The name differs from "${other}" only by upper and lower case or by how accents are composed, and a card cannot hold both.`,
    where: path,
    mend: 'Rename one of them, or leave one out.',
  })
}

function finished(draft: Draft, shortName: string): TreeFolder {
  const children = [...draft.children.values()]
  const names = children.map((child) => ('origin' in child ? lastPart(child.path) : child.name))
  const shortNames = shortNamesOf(names)
  const entries = children.map((child, index): TreeEntry => {
    const short = shortNames[index] ?? ''
    return 'origin' in child
      ? { kind: 'file', name: names[index] ?? '', shortName: short, file: child }
      : finished(child, short)
  })
  const ownSlots = draft.path === '' ? 1 : 2
  const slotCount = entries.reduce((sum, entry) => sum + slotsOfName(entry.name, entry.shortName), ownSlots)
  if (slotCount > MOST_FOLDER_SLOTS) {
    throw new AppError({
      code: 'card/folder-full',
      what: `The folder needs ${slotCount} directory slots, and FAT gives a folder ${MOST_FOLDER_SLOTS}.`,
      where: draft.path === '' ? 'the root of the card' : draft.path,
      mend: 'Spread its files over several folders, or give them shorter names.',
    })
  }
  return { kind: 'folder', name: draft.name, shortName, path: draft.path, entries, slotCount }
}

/** Slots that one name takes: the short one, and one for every 13 units of a long name. */
export function slotsOfName(name: string, shortName: string): number {
  return isShortName(name, shortName) ? 1 : 1 + Math.ceil(name.length / UNITS_A_SLOT)
}

function lastPart(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1)
}
