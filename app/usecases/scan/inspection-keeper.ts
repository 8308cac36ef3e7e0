import type { SoundInspection } from '../../model/sound.ts'
import type { PeaksArchive } from '../../ports/peaks-archive.ts'
import type { InspectedSound } from '../../ports/sound-inspector.ts'
import type { WorkshopDatabase } from '../../ports/workshop-database.ts'

/** Inspections held before they are written: some seconds of measuring, and a megabyte or two. */
const KEPT_AT_ONCE = 512

/**
 * Writes inspections while the scan goes on, so that a hundred thousand sounds take no more memory
 * than a thousand. They are kept by content and change nothing that the library shows: a scan that
 * is cancelled has left the library as it was, and does not measure the same sounds again.
 */
export class InspectionKeeper {
  readonly #database: WorkshopDatabase
  readonly #peaks: PeaksArchive
  #waiting: InspectedSound[] = []
  #writing: Promise<void> = Promise.resolve()

  constructor(database: WorkshopDatabase, peaks: PeaksArchive) {
    this.#database = database
    this.#peaks = peaks
  }

  /** Takes an inspection; where many wait, they are written beside the reading that goes on. */
  add(sound: InspectedSound): void {
    if (this.#waiting.push(sound) < KEPT_AT_ONCE) return
    const batch = this.#waiting.splice(0)
    this.#writing = this.#writing.then(() => this.#write(batch))
    // Told by `settle`; here it must not count as unhandled.
    this.#writing.catch(() => {})
  }

  /** Waits until what was handed over is written, so that reading cannot run far ahead. */
  settle(): Promise<void> {
    return this.#writing
  }

  /** Writes all that is left. */
  async finish(): Promise<void> {
    await this.#writing
    await this.#write(this.#waiting.splice(0))
  }

  async #write(batch: readonly InspectedSound[]): Promise<void> {
    if (batch.length === 0) return
    // One content may have been read from several places.
    const inspections = new Map<string, SoundInspection>()
    const peaks = new Map<string, { readonly sha256: string; readonly bytes: Uint8Array }>()
    for (const { inspection, peaks: bytes } of batch) {
      inspections.set(inspection.sha256, inspection)
      if (bytes !== null) peaks.set(inspection.sha256, { sha256: inspection.sha256, bytes })
    }
    const places = await this.#peaks.append([...peaks.values()])
    await this.#database.inTransaction(({ library }) =>
      library.keepInspections([...inspections.values()], places),
    )
  }
}
