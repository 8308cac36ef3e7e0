import { Cancelled } from '../../errors/app-error.ts'
import type { RunControl } from '../../ports/progress.ts'

/** Tells how far the scan of one root is, in files. */
export class ScanProgress {
  readonly control: RunControl
  #done = 0
  #total = 0

  constructor(control: RunControl) {
    this.control = control
  }

  /** @throws Cancelled */
  check(): void {
    if (this.control.cancel.aborted) throw new Cancelled()
  }

  seen(files: number, root: string): void {
    this.control.onProgress({
      phase: 'looking for sounds',
      done: files,
      total: null,
      unit: 'files',
      current: root,
    })
  }

  /** More files are to be read. Archives tell theirs only when they are opened. */
  expect(files: number): void {
    this.#total += files
  }

  /** Files that were expected and need not be read. */
  skip(files: number): void {
    this.#total -= files
  }

  read(path: string): void {
    this.#done += 1
    this.control.onProgress({
      phase: 'reading sounds',
      done: this.#done,
      total: this.#total,
      unit: 'files',
      current: path,
    })
  }

  recording(files: number, root: string): void {
    this.control.onProgress({ phase: 'recording', done: files, total: null, unit: 'files', current: root })
  }
}
