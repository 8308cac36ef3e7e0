import { AppError, toReport, type ErrorReport } from '../../errors/app-error.ts'
import type { Edition } from '../../model/library.ts'
import type { RunControl } from '../../ports/progress.ts'
import type { OriginalFile } from '../../ports/sound-preparer.ts'
import { bringIn } from '../card-bytes.ts'
import type { PreparePorts } from './prepare-ports.ts'

/** Originals as files, as far as they are to be had. */
export interface OriginalFiles {
  readonly byHash: ReadonlyMap<string, OriginalFile>
  /** Why some are not among them; null where all are. */
  readonly problem: ErrorReport | null
}

/**
 * Originals of an edition in the store, by their hash; they enter it now where they are not there yet:
 * prepared bytes are never kept without them.
 * @throws AppError of the store where it cannot be written; Cancelled
 */
export async function originalFiles(
  edition: Edition,
  wanted: ReadonlySet<string>,
  { database, originals, store }: Pick<PreparePorts, 'database' | 'originals' | 'store'>,
  control: RunControl,
): Promise<OriginalFiles> {
  const sounds = edition.sounds.filter(({ inspection }) => wanted.has(inspection.sha256))
  const files = sounds.map(({ path, inspection: { sha256, sizeBytes }, source }) => {
    const origin = {
      kind: 'sound',
      editionId: source?.editionId ?? edition.id,
      path: source?.path ?? path,
    } as const
    return { origin, sha256, sizeBytes }
  })
  let problem: ErrorReport | null = null
  for (const editionId of new Set(files.map(({ origin }) => origin.editionId))) {
    try {
      const own = files.filter(({ origin }) => origin.editionId === editionId)
      await bringIn(own, { database, originals, store }, control)
    } catch (error) {
      // What is still there can be prepared all the same.
      if (!(error instanceof AppError) || error.code !== 'originals/gone') throw error
      problem = toReport(error)
    }
  }
  const found = new Map<string, OriginalFile>()
  for (const { sha256, sizeBytes } of files) {
    const path = await store.pathOf(sha256)
    if (path !== undefined) found.set(sha256, { path, sizeBytes, sha256 })
  }
  return { byHash: found, problem }
}
