import type { FfmpegAbilities } from '../adapters/media/ffmpeg-build.ts'
import type { SoundAnswer } from '../../app/model/preparation.ts'
import type { Came, GroupToAnswer, MadeSound, SoundToMake } from '../../app/ports/sound-preparer.ts'

/** Work for a preparing worker: several sounds, so that ffmpeg is started once for them. */
export type PrepareJob = {
  readonly id: number
  readonly abilities: FfmpegAbilities
  /** A folder for this worker and run alone, for what is half done. */
  readonly scratchFolder: string
} & (
  | { readonly type: 'answer'; readonly groups: readonly GroupToAnswer[] }
  | { readonly type: 'make'; readonly sounds: readonly SoundToMake[] }
)

export interface PrepareWorkerData {
  /** One Int32: other than 0 once the user wants out. */
  readonly cancelFlag: SharedArrayBuffer
}

export type PrepareAnswer =
  | { readonly id: number; readonly place: number; readonly answers: Came<readonly SoundAnswer[]> }
  | { readonly id: number; readonly place: number; readonly sound: Came<MadeSound> }
  | { readonly id: number; readonly finished: true }

/** To a worker that waits for ffmpeg, which the flag does not reach. */
export interface PrepareCancel {
  readonly type: 'cancel'
}
