import type { WalkedFolder } from '../../ports/library-files.ts'
import type { KnownFile, Rows } from '../../ports/library-records.ts'

/**
 * The files that a scan has to record, made up only when they are asked for: what the walk holds of
 * them already is not held a second time.
 */
export class FileRows implements Rows<KnownFile> {
  readonly #sources: (WalkedFolder | KnownFile)[] = []
  readonly #places: number[] = []
  readonly #hashes: (string | null)[] = []
  #hasUnread = false

  /** Whether one of them could not be read. */
  get hasUnread(): boolean {
    return this.#hasUnread
  }

  get length(): number {
    return this.#sources.length
  }

  /** File `place` of a walked folder. */
  addWalked(folder: WalkedFolder, place: number, sha256: string | null): void {
    this.#add(folder, place, sha256)
  }

  add(file: KnownFile): void {
    this.#add(file, 0, file.sha256)
  }

  #add(source: WalkedFolder | KnownFile, place: number, sha256: string | null): void {
    this.#sources.push(source)
    this.#places.push(place)
    this.#hashes.push(sha256)
    this.#hasUnread ||= sha256 === null
  }

  slice(start: number, end: number): KnownFile[] {
    return this.#sources.slice(start, end).map((source, offset) => {
      if (!('names' in source)) return source
      const at = start + offset
      return { ...lookOf(source, this.#places[at] ?? 0), sha256: this.#hashes[at] ?? null }
    })
  }
}

/** How one file of a walked folder looked. */
export function lookOf(folder: WalkedFolder, place: number): Omit<KnownFile, 'sha256'> {
  const name = folder.names[place] ?? ''
  return {
    path: folder.path === '' ? name : `${folder.path}/${name}`,
    sizeBytes: folder.sizesBytes[place] ?? 0,
    modifiedNs: String(folder.modifiedNs[place] ?? 0n),
    fileKey: String(folder.fileKeys[place] ?? 0n),
  }
}
