/** One file of the demo; made when asked for, so that only one is in memory at a time. */
export interface DemoFile {
  /** Inside the font, `/`-joined. */
  readonly path: string
  /** Text is written as UTF-8. */
  readonly contents: () => Uint8Array | string
}

/** Where a demo font lies below the demo's folder: a folder of files, or an archive that holds one. */
export type DemoPlace = { readonly folder: string } | { readonly archive: string; readonly inner: string }

/** The folder of the workshop in which the demo's fonts lie. */
export interface DemoFolder {
  /** Absolute: what is scanned. */
  readonly path: string
  /**
   * Writes one font, replacing what lies at its place. Appears whole or not at all.
   * @throws AppError `demo/disk-full`, `demo/no-permission`, `demo/unwritable`
   */
  writeFont(place: DemoPlace, files: readonly DemoFile[]): Promise<void>
}
