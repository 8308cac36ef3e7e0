import type { Levels } from '../model/measures.ts'
import type { SoundInspection } from '../model/sound.ts'
import type { AbortLike } from './progress.ts'

/** Outcome of reading one sound once: what is recorded, and its waveform for drawing. */
export interface InspectedSound {
  readonly inspection: SoundInspection
  /** Waveform peaks as app/audio packs them; null where there are no samples. */
  readonly peaks: Uint8Array | null
}

/** A file to read; the size serves to share out the work, and need not be right. */
export interface FileToInspect {
  readonly path: string
  readonly sizeBytes: number
}

/** A file to hear through a speaker. */
export interface FileToHear extends FileToInspect {
  /** Where told, the file is only measured if it still has this hash. */
  readonly sha256?: string
}

/** Loudness of a sound as a speaker with a low limit gives it; null where there is none. */
export type SpeakerReadings = Pick<Levels, 'integratedLufs' | 'momentaryMaxLufs'>

/**
 * Reads sounds, each once: hash, facts, measures, sample hash and peaks. Never throws for a bad
 * file: that is a `problem` of its inspection. A worker that dies is replaced and its file reported
 * (`problem.code` `inspect/worker-died`); one that hangs is ended (`inspect/hung`).
 */
export interface SoundInspector {
  /**
   * Reads many files, in any order, on all workers. `onDone` is called once for each file that was
   * not cancelled, with its index in `files`.
   * @throws Cancelled
   */
  inspectFiles(
    files: readonly FileToInspect[],
    onDone: (index: number, inspected: InspectedSound) => void,
    cancel: AbortLike,
  ): Promise<void>
  /** Reads bytes at hand, such as an archive's entry; `name` serves messages only. The bytes are transferred away. */
  inspectBytes(bytes: Uint8Array, name: string, cancel: AbortLike): Promise<InspectedSound>
  /**
   * Measures files as heard through a speaker that plays nothing below `limitHz`. One that has no
   * loudness gives null readings; one that could not be read, or is another by now, gives null.
   * @throws Cancelled
   */
  measureThroughSpeaker(
    files: readonly FileToHear[],
    limitHz: number,
    onDone: (index: number, readings: SpeakerReadings | null) => void,
    cancel: AbortLike,
  ): Promise<void>
  close(): Promise<void>
}
