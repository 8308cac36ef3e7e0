import { AppError } from '../../errors/app-error.ts'
import type { Progress } from '../../ports/progress.ts'
import type { TargetFolder } from '../../ports/target-folder.ts'
import { TEMPORARY_FOLDER } from './list-target.ts'
import { foldersOf, type PlannedTop } from './planned-tops.ts'
import { makeFolders } from './put-in-place.ts'

/**
 * Writes what is new of these names into the temporary folder, files in play order, and reads all of
 * it back from there.
 *
 * @throws AppError `target/not-verified`; those of `TargetFolder`; Cancelled
 */
export function writeTops(
  tops: readonly PlannedTop[],
  right: ReadonlySet<string>,
  target: TargetFolder,
  onProgress: (progress: Progress) => void,
): void {
  const newFiles = tops.flatMap((top) => top.files.filter(({ path }) => !right.has(path)))
  const total = newFiles.reduce((sum, { sizeBytes }) => sum + sizeBytes, 0)
  const counting = (phase: string) => {
    let done = 0
    return (current: string) => (bytes: number) => {
      done += bytes
      onProgress({ phase, done, total, unit: 'bytes', current })
    }
  }
  const written = counting('writing to the target')
  target.makeFolder(TEMPORARY_FOLDER)
  const made = new Set<string>()
  for (const top of tops) {
    for (const file of top.files) {
      const path = `${TEMPORARY_FOLDER}/${file.path}`
      makeFolders(path, made, target)
      if (!right.has(file.path)) target.writeFile(file, path, written(file.path))
    }
    for (const folder of foldersOf(top.files)) target.sync(`${TEMPORARY_FOLDER}/${folder}`)
  }
  const readBack = counting('reading back')
  for (const { path, sha256 } of newFiles) {
    if (target.hashFile(`${TEMPORARY_FOLDER}/${path}`, readBack(path)) !== sha256) throw notAsWritten(path)
  }
}

function notAsWritten(path: string): AppError {
  return new AppError({
    code: 'target/not-verified',
    what: 'It was written and does not read back as written; nothing was put in place.',
    where: path,
    mend: 'Take another card: this one is failing, or smaller than it says.',
    kind: 'machine',
  })
}
