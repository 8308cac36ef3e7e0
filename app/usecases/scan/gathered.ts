import type { ScanProblem } from '../../model/library.ts'
import type { ScannedEdition } from '../../ports/library-records.ts'
import { FileRows } from './file-rows.ts'
import { INTO_ARCHIVE } from './known-files.ts'

/** An edition before it is known which one it is. */
export type GatheredEdition = Omit<ScannedEdition, 'editionId'>

/** What the scan of one root has found so far. */
export class Gathered {
  readonly files = new FileRows()
  readonly editions: GatheredEdition[] = []
  readonly problems: ScanProblem[] = []
  filesRead = 0
  bytesRead = 0

  /** Something that could not be read this time and may be the next: a permission, a password, a disk. */
  get mustRetry(): boolean {
    return this.files.hasUnread
  }

  fault(path: string, code: string, message: string): void {
    this.problems.push({ path, code, message, severity: 'fault' })
  }

  note(path: string, code: string, message: string): void {
    this.problems.push({ path, code, message, severity: 'note' })
  }
}

/**
 * What the last scan told of files: told again as long as they are as they were. What the walk tells
 * is found anew each time.
 */
export class FormerProblems {
  readonly #byPath = new Map<string, ScanProblem[]>()

  constructor(problems: readonly ScanProblem[]) {
    for (const { path, code, message, severity } of problems) {
      if (code.startsWith('walk/')) continue
      const problem = { path, code, message, severity }
      const others = this.#byPath.get(path)
      if (others === undefined) this.#byPath.set(path, [problem])
      else others.push(problem)
    }
  }

  ofFile(path: string): readonly ScanProblem[] {
    return this.#byPath.get(path) ?? []
  }

  /** Of an archive and all that lies in it. */
  ofArchive(path: string): readonly ScanProblem[] {
    return [...this.#byPath.entries()]
      .filter(([each]) => each === path || each.startsWith(path + INTO_ARCHIVE))
      .flatMap(([, problems]) => problems)
  }
}
