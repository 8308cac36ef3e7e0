import { AppError, Cancelled } from '../errors/app-error.ts'
import type { EditionPlace } from '../model/library.ts'
import type { ContentStore } from '../ports/content-store.ts'
import type { LibraryFiles, OpenArchive } from '../ports/library-files.ts'
import type { Originals, WantedOriginal } from '../ports/originals.ts'
import type { RunControl } from '../ports/progress.ts'
import { vetEntries } from './scan/vet-entries.ts'

/** What stands between an archive's name and what is in it, in the path of a place. */
const INTO = '!/'

/** Where bytes go: a content store, or whoever has another use for them. */
export type OriginalsSink = Pick<ContentStore, 'has' | 'keepFile' | 'keepBytes'>

/**
 * Originals out of the folders and archives where the last scan saw them, each hashed on its way into
 * the store. A place that has changed meanwhile is passed over for the next one.
 */
export function originalsFrom(store: OriginalsSink, openFiles: () => LibraryFiles): Originals {
  return {
    async keep(fontName, places, wanted, control) {
      const missing = await notYetKept(store, wanted)
      if (missing.length === 0) return
      const files = openFiles()
      try {
        let left: readonly WantedOriginal[] = missing
        let lastFault: AppError | undefined
        for (const place of places) {
          if (left.length === 0 || place.state === 'gone') continue
          const outcome = await takeFrom(place, left, { store, files, control })
          left = outcome.left
          lastFault = outcome.fault ?? lastFault
        }
        const [first] = left
        if (first !== undefined) throw gone(fontName, first, left.length, lastFault)
      } finally {
        await files.close()
      }
    },
  }
}

interface Taking {
  readonly store: OriginalsSink
  readonly files: LibraryFiles
  readonly control: RunControl
}

interface Taken {
  readonly left: readonly WantedOriginal[]
  readonly fault?: AppError
}

async function notYetKept(
  store: OriginalsSink,
  wanted: readonly WantedOriginal[],
): Promise<readonly WantedOriginal[]> {
  const missing: WantedOriginal[] = []
  for (const one of wanted) if (!(await store.has(one.sha256))) missing.push(one)
  return missing
}

function takeFrom(place: EditionPlace, wanted: readonly WantedOriginal[], taking: Taking): Promise<Taken> {
  return place.innerPath === null
    ? takeFromFolder(place.path, wanted, taking)
    : takeFromArchive(place.path, place.innerPath, wanted, taking)
}

async function takeFromFolder(
  folder: string,
  wanted: readonly WantedOriginal[],
  { store, files, control }: Taking,
): Promise<Taken> {
  return eachOf(wanted, control, ({ path, sha256 }) => store.keepFile(files.resolve(folder, path), sha256))
}

async function takeFromArchive(
  archivePath: string,
  innerPath: string,
  wanted: readonly WantedOriginal[],
  { store, files, control }: Taking,
): Promise<Taken> {
  const opened: OpenArchive[] = []
  try {
    let archive = await files.openArchive(archivePath, null, control.cancel)
    opened.push(archive)
    const steps = innerPath.split(INTO)
    let folder = steps.pop() ?? ''
    if (folder.endsWith('!')) {
      steps.push(folder.slice(0, -1))
      folder = ''
    }
    for (const step of steps) {
      archive = await archive.openInner(indexOf(archive, step), null)
      opened.push(archive)
    }
    const innermost = archive
    return await eachOf(wanted, control, async ({ path, sizeBytes, sha256 }) => {
      const index = indexOf(innermost, folder === '' ? path : `${folder}/${path}`)
      await store.keepBytes(await innermost.read(index, sizeBytes), sha256)
    })
  } catch (error) {
    if (!isOfThisPlace(error)) throw error
    return { left: wanted, fault: error }
  } finally {
    for (const archive of opened.toReversed()) await archive.close().catch(() => {})
  }
}

/** @throws AppError `archive/entry-gone` */
function indexOf(archive: OpenArchive, path: string): number {
  const entry = vetEntries(archive.entries).files.find((file) => file.path === path)
  if (entry !== undefined) return entry.index
  throw new AppError({
    code: 'archive/entry-gone',
    what: 'The archive does not hold this file any more.',
    where: path,
    mend: 'Scan it again.',
  })
}

/** Takes each in turn; what this place no longer has is left. @throws what no other place could mend */
async function eachOf(
  wanted: readonly WantedOriginal[],
  control: RunControl,
  take: (one: WantedOriginal) => Promise<void>,
): Promise<Taken> {
  const left: WantedOriginal[] = []
  let fault: AppError | undefined
  for (const [done, one] of wanted.entries()) {
    if (control.cancel.aborted) throw new Cancelled()
    control.onProgress({
      phase: 'keeping originals',
      done,
      total: wanted.length,
      unit: 'files',
      current: one.path,
    })
    try {
      await take(one)
    } catch (error) {
      if (!isOfThisPlace(error)) throw error
      left.push(one)
      fault = error
    }
  }
  return fault === undefined ? { left } : { left, fault }
}

/** Faults of this place alone: another place may have the bytes still. A full disk is full for all. */
function isOfThisPlace(error: unknown): error is AppError {
  return error instanceof AppError && /^(store\/(changed|unreadable)|archive\/)/.test(error.code)
}

/** What keeps bytes from being had, and how to mend it. */
function reasonOf(cause: AppError | undefined): { readonly what: string; readonly mend: string } {
  if (cause?.code.includes('password') === true) {
    return {
      what: 'lies in an archive that is locked by a password, which is never stored.',
      mend: 'Unpack the archive into a folder and scan that.',
    }
  }
  if (
    cause !== undefined &&
    UNREADABLE.test(cause.code) &&
    /\((?!ENOENT|ENOTDIR)E[A-Z]+\)|may not/.test(cause.what)
  ) {
    return {
      what: `cannot be had now: ${cause.what.charAt(0).toLowerCase()}${cause.what.slice(1)}`,
      mend: 'Mend its permissions, or check the disk; then try again.',
    }
  }
  return {
    what: 'is no longer where the last scan saw it, or has changed.',
    mend: 'Scan its folder again, or bring back the download.',
  }
}

const UNREADABLE = /^(store|archive)\/unreadable$/

function gone(fontName: string, first: WantedOriginal, count: number, cause: AppError | undefined): AppError {
  const others = count === 1 ? '' : ` (and ${count - 1} more files)`
  const { what, mend } = reasonOf(cause)
  return new AppError(
    {
      code: 'originals/gone',
      what: `${first.path}${others} ${what}`,
      where: `font "${fontName}"`,
      mend,
      kind: 'machine',
    },
    cause === undefined ? undefined : { cause },
  )
}
