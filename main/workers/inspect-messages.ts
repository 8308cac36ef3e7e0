import type { ErrorReport } from '../../app/errors/app-error.ts'
import type { InspectedSound } from '../../app/ports/sound-inspector.ts'

/** Work for an inspecting worker: several small files at once save messages. */
export type InspectJob =
  | { readonly type: 'files'; readonly id: number; readonly paths: readonly string[] }
  | { readonly type: 'bytes'; readonly id: number; readonly name: string; readonly bytes: Uint8Array }

/**
 * What it answers: one `done` for each file, in order, by its place in the job; then `finished`.
 * `failed` tells of a fault that is ours, never of a bad file.
 */
export type InspectAnswer =
  | { readonly type: 'done'; readonly id: number; readonly place: number; readonly inspected: InspectedSound }
  | { readonly type: 'finished'; readonly id: number }
  | { readonly type: 'failed'; readonly id: number; readonly place: number; readonly error: ErrorReport }
