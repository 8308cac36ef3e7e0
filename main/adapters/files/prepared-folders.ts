import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { lstat, mkdir, open, rename, rm, stat } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { AppError, Cancelled } from '../../../app/errors/app-error.ts'
import type { PreparedFile, PreparedFolders } from '../../../app/ports/prepared-folders.ts'
import type { AbortLike } from '../../../app/ports/progress.ts'
import { writeAtomically } from './atomic-write.ts'
import { holdsExactly } from './holds-exactly.ts'
import { removeLeftBehind } from './left-behind.ts'
import { makeFolders } from './make-folders.ts'
import { MARK_PATTERN, OWN_MARK } from './process-mark.ts'

const HALF = new RegExp(String.raw`^\.half-${MARK_PATTERN}$`)

/** Prepared fonts as folders of the disk: written beside their place, then renamed to it. */
export const preparedFolders: PreparedFolders = {
  async write(into, files, control) {
    const tops = new Map<string, PreparedFile[]>()
    for (const file of files) {
      const top = topOf(file)
      tops.set(top, [...(tops.get(top) ?? []), file])
    }
    const half = join(into, `.half-${OWN_MARK}`)
    try {
      makeFolders(into)
      await removeLeftBehind(into, (name) => Number(HALF.exec(name)?.[1] ?? NaN))
      // A run that was killed between two renames has finished some of them.
      const finished = await finishedFolders(into, tops, control.cancel)
      for (const top of finished) tops.delete(top)
      await rm(half, { recursive: true, force: true })
      let done = 0
      for (const file of files) {
        if (control.cancel.aborted) throw new Cancelled()
        if (!finished.has(topOf(file))) await copyChecked(file, join(half, ...file.path.split('/')))
        control.onProgress({
          phase: 'writing',
          done: ++done,
          total: files.length,
          unit: 'files',
          current: file.path,
        })
      }
      for (const top of tops.keys()) {
        await refuseExisting(join(into, top))
        await rename(join(half, top), join(into, top))
      }
    } catch (error) {
      throw error instanceof AppError ? error : writingFault(error, into)
    } finally {
      await rm(half, { recursive: true, force: true }).catch(() => undefined)
    }
  },
  requirePlaceOfPage: requireFolderOf,
  async writePage(path, text) {
    await requireFolderOf(path)
    try {
      await writeAtomically(path, async (handle) => {
        await handle.writeFile(text)
      })
    } catch (error) {
      throw writingFault(error, path)
    }
  },
}

/** A folder that a slip of the pen names is not made: the page would lie where nobody looks for it. */
async function requireFolderOf(path: string): Promise<void> {
  const folder = await stat(dirname(path)).catch((error: NodeJS.ErrnoException) => error)
  // One that may not be looked at is told by what the writing says.
  if ('isDirectory' in folder ? folder.isDirectory() : !MISSING.has(folder.code)) return
  throw new AppError({
    code: 'report/folder-missing',
    what: 'The folder for the page does not exist.',
    where: path,
    mend: 'Make the folder first, or choose another.',
  })
}

const MISSING: ReadonlySet<string | undefined> = new Set(['ENOENT', 'ENOTDIR'])

function topOf({ path }: PreparedFile): string {
  return path.split('/')[0] ?? ''
}

/**
 * Folders that are there as they would be written.
 * @throws AppError `prepare/folder-exists` for one that holds anything else; Cancelled
 */
async function finishedFolders(
  into: string,
  tops: ReadonlyMap<string, readonly PreparedFile[]>,
  cancel: AbortLike,
): Promise<ReadonlySet<string>> {
  const finished = new Set<string>()
  for (const [top, files] of tops) {
    const wanted = new Map(files.map(({ path, sha256 }) => [path.slice(top.length + 1), sha256]))
    if (await holdsExactly(join(into, top), wanted, cancel)) finished.add(top)
    else await refuseExisting(join(into, top))
  }
  return finished
}

async function refuseExisting(path: string): Promise<void> {
  if ((await lstat(path).catch(() => null)) === null) return
  throw new AppError({
    code: 'prepare/folder-exists',
    what: `"${basename(path)}" is there already, and nothing is overwritten.`,
    where: path,
    mend: 'Choose an empty folder, or move it away.',
  })
}

/** Copies bytes of the store and holds them against their hash on the way. */
async function copyChecked({ path, sourcePath, sha256 }: PreparedFile, target: string): Promise<void> {
  await mkdir(dirname(target), { recursive: true })
  const hash = createHash('sha256')
  const handle = await open(target, 'wx')
  try {
    for await (const piece of sourcePath === null ? [] : createReadStream(sourcePath)) {
      const bytes = piece as Uint8Array
      hash.update(bytes)
      await handle.writeFile(bytes)
    }
    await handle.sync()
  } finally {
    await handle.close()
  }
  if (hash.digest('hex') === sha256) return
  throw new AppError({
    code: 'store/damaged',
    what: "The workshop's copy of this file is no longer what was kept.",
    where: path,
    mend: 'Check the disk, then prepare again: a damaged copy is put aside and made anew.',
    kind: 'machine',
  })
}

const IN_THE_WAY: Readonly<Record<string, string>> = {
  EEXIST: 'A file lies where the folder would be.',
  ENOTDIR: 'A file lies where a folder would have to be.',
  EISDIR: 'A folder lies where the file would be.',
  ENOENT: 'No folder can be made there.',
}

function writingFault(cause: unknown, where: string): AppError {
  const { code = 'unknown cause' } = cause as NodeJS.ErrnoException
  const isFull = code === 'ENOSPC' || code === 'EDQUOT' || code === 'EFBIG'
  const isForbidden = code === 'EACCES' || code === 'EPERM' || code === 'EROFS'
  return new AppError(
    {
      code: isFull ? 'prepare/disk-full' : isForbidden ? 'prepare/no-permission' : 'prepare/unwritable',
      what: isFull
        ? 'The disk has no room for it.'
        : isForbidden
          ? 'This user may not write there.'
          : (IN_THE_WAY[code] ?? `It could not be written (${code}).`),
      where,
      mend: isFull ? 'Free some space; nothing was left half-made.' : 'Choose another folder.',
      kind: 'machine',
    },
    { cause },
  )
}
