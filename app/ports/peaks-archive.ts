/** Where the waveform of one content lies among the workshop's append-only pack files. */
export interface PeaksPlace {
  readonly sha256: string
  readonly pack: string
  readonly offsetBytes: number
  readonly lengthBytes: number
}

/** The pack files. A place is only recorded after its bytes are on the disk. */
export interface PeaksArchive {
  append(
    peaks: readonly { readonly sha256: string; readonly bytes: Uint8Array }[],
  ): Promise<readonly PeaksPlace[]>
  read(place: PeaksPlace): Promise<Uint8Array>
}
