import type { CardFile } from '../model/plan.ts'
import type { FilledTarget, FoundDrive, TargetListing, TargetPlace } from '../model/target.ts'
import type { RunControl } from './progress.ts'
import type { FileToWrite } from './target-folder.ts'

/** What is to be on a target, and what may happen to what is there. */
export interface FillJob {
  /** In plan order. */
  readonly planned: readonly CardFile[]
  /** Files of contents on record, at least those of which the target has the name. */
  readonly known: readonly FileToWrite[]
  /** Whether what is neither planned nor on record may be removed. */
  readonly mayReplace: boolean
  /** Whether the file system keeps names in the order in which they are made. */
  readonly keepsOrder: boolean
}

/** Mounted cards and plain folders that content is written to file by file. */
export interface CardTargets {
  /** Removable drives with a file system; never one that the system lies on. */
  listDrives(): Promise<readonly FoundDrive[]>
  /**
   * Where a path leads and what is there; nothing is read but the facts of the volume.
   * @param keepAway places that must not be written to, in, or around
   * @param spared places inside those that may be
   * @throws AppError `target/missing`, `target/not-a-folder`, `target/unreadable`
   */
  place(path: string, keepAway: readonly string[], spared: readonly string[]): Promise<TargetPlace>
  /**
   * Names and sizes of all that is below it.
   * @param planned paths that are never taken for litter
   * @throws AppError `target/no-card`; those of `TargetFolder`; Cancelled
   */
  list(path: string, planned: readonly string[], control: RunControl): Promise<TargetListing>
  /**
   * SHA-256 of files below it; of none that cannot be read.
   * @throws AppError `target/gone`; Cancelled
   */
  hash(path: string, files: readonly string[], control: RunControl): Promise<Readonly<Record<string, string>>>
  /**
   * Makes it hold exactly what is planned.
   * @param sourcePaths SHA-256 to a path of the store
   * @throws AppError `target/strangers`, `target/too-full`, `target/not-verified`, `target/no-card`;
   *   those of `TargetFolder`; Cancelled
   */
  fill(
    path: string,
    job: FillJob,
    sourcePaths: Readonly<Record<string, string>>,
    control: RunControl,
  ): Promise<FilledTarget>
}
