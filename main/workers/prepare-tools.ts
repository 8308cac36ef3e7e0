import type { CancelCheck } from '../../app/ports/bytes.ts'
import type { Kernel } from '../../app/ports/kernel.ts'
import type { AbortLike } from '../../app/ports/progress.ts'
import type { SampleRounder } from '../../app/ports/sample-rounder.ts'
import type { FfmpegAbilities } from '../adapters/media/ffmpeg-build.ts'

/** What a job needs besides its sounds. */
export interface PrepareTools {
  readonly kernel: Kernel
  readonly rounder: SampleRounder
  readonly abilities: FfmpegAbilities
  /** Memory for a whole file, used again for the next: it holds until then. */
  readonly roomFor: (sizeBytes: number) => Uint8Array
  /** Of this worker alone. What it leaves there is removed by whoever started it. */
  readonly scratchFolder: string
  /** For synchronous work, and for what waits. */
  readonly cancel: CancelCheck
  readonly abort: AbortLike
  /** Numbers names in the scratch folder. */
  readonly nextNumber: () => number
  readonly remove: (path: string) => void
}
