import type { HashedExtent } from '../../app/cards/image-hash.ts'
import type { ErrorReport, ExitKind } from '../../app/errors/app-error.ts'
import type { CardIdentity, CardReading, ImageStretch } from '../../app/model/card-reading.ts'
import type { FilledTarget, TargetListing } from '../../app/model/target.ts'
import type { ImageJob } from '../../app/ports/card-images.ts'
import type { FillJob } from '../../app/ports/card-targets.ts'
import type { Progress } from '../../app/ports/progress.ts'
import type { ImagePart } from '../adapters/files/write-image.ts'

/** What a card worker can be asked to do; one job a worker. */
export type CardJob =
  | {
      /** One part of an image whose file was created. */
      readonly kind: 'write-image'
      readonly job: ImageJob
      readonly part: ImagePart
      readonly temporary: string
      readonly final: string
    }
  | { readonly kind: 'identify'; readonly target: string }
  | { readonly kind: 'read-card'; readonly target: string; readonly stretches: readonly ImageStretch[] }
  | { readonly kind: 'list-folder'; readonly path: string; readonly planned: readonly string[] }
  | { readonly kind: 'hash-in-folder'; readonly path: string; readonly files: readonly string[] }
  | {
      readonly kind: 'fill-folder'
      readonly path: string
      readonly job: FillJob
      readonly sourcePaths: Readonly<Record<string, string>>
    }

export interface CardResults {
  readonly 'write-image': readonly HashedExtent[]
  readonly identify: CardIdentity
  readonly 'read-card': CardReading
  readonly 'list-folder': TargetListing
  readonly 'hash-in-folder': Readonly<Record<string, string>>
  readonly 'fill-folder': FilledTarget
}

export interface CardWorkerData {
  readonly job: CardJob
  /** One Int32: other than 0 once the user wants out. */
  readonly cancelFlag: SharedArrayBuffer
}

export type CardEvent =
  | { readonly kind: 'progress'; readonly progress: Progress }
  | { readonly kind: 'done'; readonly result: CardResults[CardJob['kind']] }
  | {
      readonly kind: 'failed'
      readonly report: ErrorReport & { readonly kind: ExitKind }
      readonly detail: string
    }
