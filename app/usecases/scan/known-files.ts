import type { KnownFile } from '../../ports/library-records.ts'
import { kindOfFile } from './file-kinds.ts'

/** How a file looked to the walk. */
export interface FileLook {
  readonly path: string
  readonly sizeBytes: number
  readonly modifiedNs: string
  readonly fileKey: string
}

/** What separates an archive's path from that of an entry in it. */
export const INTO_ARCHIVE = '!/'

/** What the last scan knew of a root's files, so that only what changed is read. */
export class KnownFiles {
  readonly #byPath: ReadonlyMap<string, KnownFile>
  #byLook: ReadonlyMap<string, KnownFile> | undefined
  #entries: ReadonlyMap<string, readonly KnownFile[]> | undefined

  constructor(files: readonly KnownFile[]) {
    this.#byPath = new Map(files.map((file) => [file.path, file]))
  }

  /** The file, where it lies where it lay, looks as it did, and could be read then. */
  unchanged(look: FileLook): KnownFile | null {
    const known = this.#byPath.get(look.path)
    return known !== undefined && known.sha256 !== null && looksAlike(known, look) ? known : null
  }

  /**
   * A file that lay elsewhere below the root and is in all else the same: renamed or moved, it keeps
   * its inode, size and time, and need not be read again.
   */
  moved(look: FileLook): KnownFile | null {
    if (look.fileKey === '' || look.fileKey === '0') return null
    this.#byLook ??= new Map(
      [...this.#byPath.values()].filter(({ sha256 }) => sha256 !== null).map((file) => [lookKey(file), file]),
    )
    return this.#byLook.get(lookKey(look)) ?? null
  }

  /** Entries directly in an archive, with their paths inside it; not those of archives in it. */
  entriesOf(archivePath: string): readonly KnownFile[] {
    this.#entries ??= this.#groupEntries()
    return this.#entries.get(archivePath) ?? []
  }

  #groupEntries(): ReadonlyMap<string, readonly KnownFile[]> {
    const groups = new Map<string, KnownFile[]>()
    for (const file of this.#byPath.values()) {
      const archive = this.#archiveOf(file.path)
      if (archive === null) continue
      const entry = { ...file, path: file.path.slice(archive.length + INTO_ARCHIVE.length) }
      const group = groups.get(archive)
      if (group === undefined) groups.set(archive, [entry])
      else group.push(entry)
    }
    return groups
  }

  /** The innermost archive that a path lies in: a folder may be called `x!` without being one. */
  #archiveOf(path: string): string | null {
    for (let at = path.lastIndexOf(INTO_ARCHIVE); at > 0; at = path.lastIndexOf(INTO_ARCHIVE, at - 1)) {
      const archive = path.slice(0, at)
      if (this.#byPath.has(archive) && isArchiveName(archive)) return archive
    }
    return null
  }
}

function isArchiveName(path: string): boolean {
  const kind = kindOfFile(path.slice(path.lastIndexOf('/') + 1))
  return kind === 'zip' || kind === 'other-archive'
}

function looksAlike(a: Omit<FileLook, 'path'>, b: Omit<FileLook, 'path'>): boolean {
  return a.sizeBytes === b.sizeBytes && a.modifiedNs === b.modifiedNs && a.fileKey === b.fileKey
}

function lookKey({ sizeBytes, modifiedNs, fileKey }: Omit<FileLook, 'path'>): string {
  return `${fileKey} ${sizeBytes} ${modifiedNs}`
}
