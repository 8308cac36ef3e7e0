import type { EditionPlace } from '../model/library.ts'
import type { WantedOriginal } from './originals.ts'
import type { RunControl } from './progress.ts'
import type { SpeakerReadings } from './sound-inspector.ts'

/** Sounds of one edition that are to be heard, and where the last scan saw them. */
export interface EditionToHear {
  readonly fontName: string
  readonly places: readonly EditionPlace[]
  readonly sounds: readonly WantedOriginal[]
}

/** Measures sounds of the library through a speaker, from wherever their bytes lie. */
export interface SpeakerMeter {
  /**
   * Readings by the hash of the bytes. What no place has unchanged, or cannot be read, is not among
   * them. Nothing enters the store for it.
   * @throws Cancelled
   */
  measure(
    editions: readonly EditionToHear[],
    limitHz: number,
    control: RunControl,
  ): Promise<ReadonlyMap<string, SpeakerReadings>>
}
