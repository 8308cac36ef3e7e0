/** How far a long act has come. Counts are of `unit`; `total` is null while it is not yet known. */
export interface Progress {
  readonly phase: string
  readonly done: number
  readonly total: number | null
  readonly unit: 'files' | 'bytes' | 'fonts'
  readonly current: string | null
}
export type OnProgress = (progress: Progress) => void

/** What every long use case gets besides its ports and its request. */
export interface RunControl {
  readonly onProgress: OnProgress
  readonly cancel: AbortLike
}

/** The part of an AbortSignal that the core uses, so that it needs no DOM or Node type. */
export interface AbortLike {
  readonly aborted: boolean
  addEventListener(type: 'abort', listener: () => void): void
  removeEventListener(type: 'abort', listener: () => void): void
}
