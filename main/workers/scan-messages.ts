import type { ErrorReport, ExitKind } from '../../app/errors/app-error.ts'
import type {
  ArchiveEntry,
  FileToHash,
  HashedFile,
  LookedAt,
  WalkedTree,
} from '../../app/ports/library-files.ts'

/** Work for the worker of one scan. Archives that it has opened are named by numbers. */
export type ScanJob =
  | { readonly type: 'walk'; readonly root: LookedAt; readonly knownDigest: string | null }
  /** Walks a root that will be asked for soon, and keeps what it saw. */
  | { readonly type: 'walk-ahead'; readonly root: LookedAt }
  | { readonly type: 'hash'; readonly files: readonly FileToHash[] }
  | { readonly type: 'open'; readonly path: string; readonly password: string | null }
  | {
      readonly type: 'open-inner'
      readonly archive: number
      readonly index: number
      readonly password: string | null
    }
  | { readonly type: 'read'; readonly archive: number; readonly index: number; readonly mostBytes: number }
  | {
      readonly type: 'hash-entry'
      readonly archive: number
      readonly index: number
      readonly mostBytes: number
    }
  | { readonly type: 'close'; readonly archive: number }

export interface OpenedArchive {
  readonly archive: number
  readonly entries: readonly ArchiveEntry[]
}

export interface ScanResults {
  readonly walk: WalkedTree
  readonly 'walk-ahead': null
  readonly hash: null
  readonly open: OpenedArchive
  readonly 'open-inner': OpenedArchive
  readonly read: Uint8Array
  readonly 'hash-entry': { readonly sha256: string; readonly sizeBytes: number }
  readonly close: null
}

export interface NumberedScanJob {
  readonly id: number
  readonly job: ScanJob
}

export type ScanEvent =
  | { readonly id: number; readonly type: 'seen'; readonly files: number }
  | { readonly id: number; readonly type: 'hashed'; readonly index: number; readonly hashed: HashedFile }
  | { readonly id: number; readonly type: 'done'; readonly result: ScanResults[ScanJob['type']] }
  | {
      readonly id: number
      readonly type: 'failed'
      readonly report: ErrorReport & { readonly kind: ExitKind }
      readonly detail: string
    }
