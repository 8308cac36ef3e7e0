import { fillTarget } from '../../app/cards/folder/fill-target.ts'
import { listTarget } from '../../app/cards/folder/list-target.ts'
import { AppError } from '../../app/errors/app-error.ts'
import type { FilledTarget, TargetListing } from '../../app/model/target.ts'
import type { CancelCheck } from '../../app/ports/bytes.ts'
import type { TargetFolder } from '../../app/ports/target-folder.ts'
import type { OnProgress, Progress } from '../../app/ports/progress.ts'
import { isLitterFolder, kindOfFile } from '../../app/usecases/scan/file-kinds.ts'
import { openTargetFolder } from '../adapters/files/target-folder.ts'
import type { CardJob } from './card-messages.ts'

/** Between two reports of progress, in milliseconds. */
const REPORT_EVERY_MS = 100

/** Lists, reads or fills a mounted card or a folder. @throws AppError as `CardTargets`; Cancelled */
export function doFolderJob(
  job: CardJob & { kind: 'list-folder' | 'hash-in-folder' | 'fill-folder' },
  onProgress: OnProgress,
  cancel: CancelCheck,
): TargetListing | FilledTarget | Readonly<Record<string, string>> {
  try {
    if (job.kind === 'list-folder') {
      const planned = new Set(job.planned)
      const target = openTargetFolder(job.path, {}, cancel)
      return listTarget(target, { isLitter, isPlanned: (path) => planned.has(path), cancel })
    }
    if (job.kind === 'hash-in-folder') return hashesOf(job.files, openTargetFolder(job.path, {}, cancel))
    const target = openTargetFolder(job.path, job.sourcePaths, cancel)
    return fillTarget(job.job, target, { isLitter, cancel, onProgress: sparingly(onProgress) })
  } catch (error) {
    throw withPlace(error, job.path)
  }
}

function hashesOf(files: readonly string[], target: TargetFolder): Readonly<Record<string, string>> {
  const hashes: Record<string, string> = {}
  for (const path of files) {
    try {
      hashes[path] = target.hashFile(path, () => {})
    } catch (error) {
      // One that cannot be read stays unknown; a target that is gone, or a user who wants out, is another matter.
      if (!(error instanceof AppError) || error.code === 'target/gone' || error.code === 'cancelled')
        throw error
    }
  }
  return hashes
}

function isLitter(name: string, isFolder: boolean): boolean {
  return isFolder ? isLitterFolder(name) : kindOfFile(name) === 'litter'
}

/** What was judged by names alone does not know where they lie. */
function withPlace(error: unknown, where: string): unknown {
  if (!(error instanceof AppError) || error.where !== '' || error.code === 'cancelled') return error
  const { code, what, mend, kind } = error
  return new AppError({ code, what, where, mend, kind }, { cause: error })
}

/** Every change of phase is told, and now and then how far it is. */
function sparingly(onProgress: OnProgress): (progress: Progress) => void {
  let last = -Infinity
  let phase = ''
  return (progress) => {
    const now = performance.now()
    if (progress.phase === phase && now - last < REPORT_EVERY_MS) return
    last = now
    phase = progress.phase
    onProgress(progress)
  }
}
