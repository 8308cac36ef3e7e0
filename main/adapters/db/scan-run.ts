import type { ScanFiles } from './scan-files.ts'
import type { EditionHead } from './scan-steps.ts'

/** What one scan has told so far. */
export interface ScanRun {
  readonly rootId: string
  readonly at: string
  readonly files: ScanFiles
  readonly heads: readonly EditionHead[]
  addHeads(heads: readonly EditionHead[]): void
  /** What this scan found at a place of its root. */
  headAt(path: string, innerPath: string | null): EditionHead | undefined
  /** Ids of the root's places that this scan found. */
  readonly seenPlaces: Set<string>
  readonly counts: { added: number; changed: number; unchanged: number; relinked: number }
  /** Known editions found at a new place, with what the names there tell. */
  readonly moved: MovedEdition[]
}

export interface MovedEdition {
  readonly editionId: string
  readonly fontName: string
  readonly version: string
  readonly proposedCreatorName: string | null
  /** For the creator proposed, where that one is new. */
  readonly id: string
}

export function startRun(rootId: string, at: string, files: ScanFiles): ScanRun {
  const counts = { added: 0, changed: 0, unchanged: 0, relinked: 0 }
  const heads: EditionHead[] = []
  const byPlace = new Map<string, EditionHead>()
  const key = (path: string, innerPath: string | null) => `${path}\0${innerPath ?? ''}`
  return {
    rootId,
    at,
    files,
    heads,
    addHeads: (more) => {
      heads.push(...more)
      for (const head of more) byPlace.set(key(head.path, head.innerPath), head)
    },
    headAt: (path, innerPath) => byPlace.get(key(path, innerPath)),
    seenPlaces: new Set(),
    counts,
    moved: [],
  }
}
