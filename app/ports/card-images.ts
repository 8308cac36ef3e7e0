import type { ImageStamp, Plan } from '../model/plan.ts'
import type { RunControl } from './progress.ts'

/** What an image is made of: the plan, and where the bytes of each of its files lie. */
export interface ImageJob {
  readonly plan: Plan
  readonly stamp: ImageStamp
  /** SHA-256 to a path of the machine; every file of the plan that is not empty is among them. */
  readonly sourcePaths: Readonly<Record<string, string>>
}

/**
 * Writes images. Every file's hash is checked while it is copied. An image lies under a name of its
 * own until it is published; whatever ends the work early leaves nothing behind.
 */
export interface CardImages {
  /**
   * Tells before the work what would stop it after.
   * @throws AppError `image/exists`, `image/folder-missing`, `image/no-permission`, `image/disk-full`
   */
  requireTarget(imagePath: string, replace: boolean, neededBytes: number): Promise<void>
  /**
   * @throws AppError as `requireTarget`, `image/file-limit`, `image/write-failed`, `store/damaged`,
   *   `store/missing`; Cancelled
   */
  write(job: ImageJob, imagePath: string, control: RunControl): Promise<WrittenImage>
}

/** An image that is on the disk whole, under a name of its own. */
export interface WrittenImage {
  readonly temporaryPath: string
  /** FORMAT.md of app/cards, "Image hash", over the bytes as they were written. */
  readonly imageHash: string
  /** Gives it its name. @throws AppError `image/exists` where that was taken meanwhile */
  publish(replace: boolean): Promise<void>
  /** Removes it; harmless after `publish`. */
  discard(): Promise<void>
}
