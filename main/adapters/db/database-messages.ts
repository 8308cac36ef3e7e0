import type { ErrorReport, ExitKind } from '../../../app/errors/app-error.ts'
import type { Stamp } from './write-context.ts'

/** What the database worker is started with. */
export interface DatabaseStart {
  readonly folder: string
  readonly actor: { readonly id: string; readonly name: string }
  /** Setting that names the actor otherwise, where the workshop was told. */
  readonly nameSetting: string | null
  /** How long a transaction waits for that of another process. */
  readonly busyWaitMs: number
}

/** `scan` stands for the steps of `applyScan`. */
export type Repository = 'library' | 'records' | 'preparation' | 'scan'

/** From the process to its database worker. `id` numbers the question; its answers carry it. */
export type DatabaseQuestion =
  | {
      readonly id: number
      readonly kind: 'read'
      readonly of: Repository
      readonly method: string
      readonly args: readonly unknown[]
    }
  | { readonly id: number; readonly kind: 'begin' }
  /** Inside the open transaction: a read or a write. */
  | {
      readonly id: number
      readonly kind: 'inside'
      readonly of: Repository
      readonly method: string
      readonly args: readonly unknown[]
      readonly stamp: Stamp
    }
  | { readonly id: number; readonly kind: 'commit' }
  | { readonly id: number; readonly kind: 'rollback' }
  /** The last part of the answer was taken in; the next may come. */
  | { readonly id: number; readonly kind: 'taken' }
  | { readonly id: number; readonly kind: 'close' }

/** An error on its way between threads: a report, or what is left of a bug. */
export type SentError =
  | { readonly report: ErrorReport & { readonly kind: ExitKind } }
  | { readonly bug: { readonly name: string; readonly message: string; readonly stack: string } }

export type DatabaseAnswer =
  | { readonly id: number; readonly kind: 'part'; readonly part: readonly unknown[] }
  /** `streamed` says that the value is all parts together. */
  | { readonly id: number; readonly kind: 'done'; readonly value: unknown; readonly streamed: boolean }
  | { readonly id: number; readonly kind: 'failed'; readonly error: SentError }
  | { readonly kind: 'opened' }
  | { readonly kind: 'not-opened'; readonly error: SentError }
  | { readonly kind: 'foreign-change' }
