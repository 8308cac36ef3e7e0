import type { RunControl } from './progress.ts'

/** A file of a prepared font, and where its bytes lie. */
export interface PreparedFile {
  /** Below the folder that fonts are written to, `/`-joined. */
  readonly path: string
  /** Null for an empty file, of which no bytes are kept. */
  readonly sourcePath: string | null
  readonly sha256: string
}

/** Writing prepared fonts as folders, and the page about them. */
export interface PreparedFolders {
  /**
   * Writes files in their order. Each folder at the top appears whole or not at all, and none that is
   * there already is touched: one that holds exactly these files, byte for byte, counts as written, and
   * any other is refused before anything is written.
   * @throws AppError `prepare/folder-exists`, `prepare/no-permission`, `prepare/disk-full`,
   *   `store/damaged`; Cancelled
   */
  write(into: string, files: readonly PreparedFile[], control: RunControl): Promise<void>
  /**
   * Refuses a page whose folder is not there, before the work that it would tell of.
   * @throws AppError `report/folder-missing`
   */
  requirePlaceOfPage(path: string): Promise<void>
  /**
   * Writes a page into a folder that is there, replacing one of that name.
   * @throws AppError as `write` and `requirePlaceOfPage`
   */
  writePage(path: string, text: string): Promise<void>
}
