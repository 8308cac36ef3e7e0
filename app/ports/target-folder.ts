/** One name in a folder of the target. */
export interface TargetEntry {
  readonly name: string
  /** `other`: a link or a special file, which is never followed. */
  readonly kind: 'file' | 'folder' | 'other'
  /** 0 for what is no file. */
  readonly sizeBytes: number
}

/** A file as it is to be on the target; the bytes come from the store. */
export interface FileToWrite {
  readonly path: string
  readonly sizeBytes: number
  readonly sha256: string
}

/**
 * A mounted card or a plain folder, as what fills it sees it; synchronous, used inside a worker.
 * Paths are `/`-joined below the target, `''` for itself. Nothing is ever replaced: a name that is
 * taken is an error, and so is a target that is no longer the volume it was at first.
 *
 * @throws AppError `target/disk-full`, `target/read-only`, `target/gone`, `target/file-limit`,
 *   `target/write-failed`, `store/damaged`, `store/missing` from any of them; Cancelled from those
 *   that move bytes
 */
export interface TargetFolder {
  /** In the order in which the folder has them. */
  list(path: string): readonly TargetEntry[]
  makeFolder(path: string): void
  /** Copies a file's bytes, holding them against their hash on the way, and brings them to the disk. */
  writeFile(file: FileToWrite, path: string, onBytes: (bytes: number) => void): void
  /** SHA-256 of a file as it reads back. */
  hashFile(path: string, onBytes: (bytes: number) => void): string
  rename(from: string, to: string): void
  removeFile(path: string): void
  /** Only an empty one. */
  removeFolder(path: string): void
  /**
   * Brings a file, or the names in a folder, to the disk, where the system lets folders be synced. What was
   * renamed needs it at its new name: on a FAT the new name points nowhere until then.
   */
  sync(path: string): void
  /** Null where the file system does not tell. */
  room(): { readonly freeBytes: number; readonly clusterBytes: number } | null
}
