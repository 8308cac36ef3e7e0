import type { ErrorReport } from '../../app/errors/app-error.ts'
import type { InspectedSound, SpeakerReadings } from '../../app/ports/sound-inspector.ts'

/** Work for an inspecting worker: several small files at once save messages. */
export type InspectJob =
  | { readonly type: 'files'; readonly id: number; readonly paths: readonly string[] }
  | {
      readonly type: 'speaker'
      readonly id: number
      readonly paths: readonly string[]
      /** Hash that each file must have still; null where any will do. */
      readonly sha256s: readonly (string | null)[]
      readonly limitHz: number
    }
  | { readonly type: 'bytes'; readonly id: number; readonly name: string; readonly bytes: Uint8Array }

/** What reading one file came to; `failed` tells of a fault that is ours, never of a bad file. */
export type FileAnswer =
  | { readonly type: 'inspected'; readonly inspected: InspectedSound }
  | { readonly type: 'speaker'; readonly readings: SpeakerReadings | null }
  | { readonly type: 'failed'; readonly error: ErrorReport }

/** One answer for each file, in order, by its place in the job; then `finished`. */
export type InspectAnswer =
  | { readonly id: number; readonly place: number; readonly answer: FileAnswer }
  | { readonly id: number; readonly finished: true }
