import { join } from 'node:path'
import type { Core } from '../app/contract/core.ts'
import { AppError } from '../app/errors/app-error.ts'
import type { LibraryFiles } from '../app/ports/library-files.ts'
import type { WorkshopDatabase } from '../app/ports/workshop-database.ts'
import { WHO_SETTING } from '../app/usecases/change-workshop.ts'
import { scanLibrary } from '../app/usecases/scan-library.ts'
import { openNamedLocks } from './adapters/db/open-named-locks.ts'
import { openWorkshopDatabase } from './adapters/db/open-workshop-database.ts'
import { makeFolders } from './adapters/files/make-folders.ts'
import { openPeaksPacks } from './adapters/files/peaks-packs.ts'
import { watchFolders } from './adapters/files/watch-folders.ts'
import { coreOnFirstCall } from './core-on-first-call.ts'
import { newUuid, systemClock } from './machine.ts'
import { productVersion } from './product-version.ts'
import type { restOfCore } from './rest-of-core.ts'
import { rolesOfScan } from './roles-of-scan.ts'
import type { OpenSound } from './sound-opener.ts'
import { openWorkerInspector } from './workers/worker-inspector.ts'
import { openWorkerLibraryFiles } from './workers/worker-library-files.ts'
import { accountName } from './workshop-folder.ts'
import { workshopPaths } from './workshop-paths.ts'

/** The file that makes a folder a workshop. */
export const WORKSHOP_DATABASE = 'cardwright.sqlite'

/** An open workshop: what every door works on. */
export interface Workshop {
  readonly folder: string
  readonly core: Core
  readonly openSound: OpenSound
  /** Calls back when another process has changed something. Returns how to stop. */
  onForeignChange(listener: () => void): () => void
  /** Ends the workers and closes the database; call it once, with nothing running. */
  close(): Promise<void>
}

export interface WorkshopOptions {
  /** Absolute; made where it is missing. */
  readonly folder: string
  /** Files that the first scan goes by, where it was begun before the workshop was opened. */
  readonly firstScan?: LibraryFiles
}

/**
 * Opens a workshop folder and wires the adapters to the use cases: the one place that does.
 *
 * @throws AppError `workshop/not-a-folder`, `workshop/no-place`, `workshop/no-permission`, `workshop/disk-full` and those
 *   of `openWorkshopDatabase`
 */
export async function openWorkshop({ folder, firstScan }: WorkshopOptions): Promise<Workshop> {
  const paths = workshopPaths(folder)
  prepareFolders([folder, paths.images])
  const clock = systemClock
  const toolVersion = productVersion()
  const { database, who } = await openInTheNameOf(accountName(), folder)
  const inspector = openWorkerInspector()
  const peaks = openPeaksPacks(paths.peaks, () => database.library.listPeaksPacks())
  const locks = openNamedLocks(folder, { who, clock })
  const scan = {
    database,
    openFiles: filesOfScans(firstScan),
    inspector,
    peaks,
    locks,
    clock,
    elapsedMs: () => performance.now(),
  }
  const scanCall: Core['scan'] = async (request, control) =>
    scanLibrary({ ...scan, roles: await rolesOfScan(folder, toolVersion) }, request, control)
  let loading: Promise<ReturnType<typeof restOfCore>> | undefined
  const rest = () =>
    (loading ??= import('./rest-of-core.ts').then((loaded) =>
      loaded.restOfCore({ paths, who, toolVersion, inspector, scan, scanCall }),
    ))
  return {
    folder,
    core: coreOnFirstCall({ scan: scanCall }, async () => (await rest()).core),
    openSound: async (...asked) => (await rest()).openSound(...asked),
    onForeignChange(listener) {
      // Boards and schemes are files, which people change by hand too.
      const texts = [join(folder, 'boards'), join(folder, 'schemes')]
      const stops = [database.onForeignChange(listener), watchFolders(texts, listener)]
      return () => stops.forEach((stop) => stop())
    },
    async close() {
      // What could not be loaded has started nothing.
      await loading?.then(
        (loaded) => loaded.close(),
        () => undefined,
      )
      await inspector.close()
      await peaks.close()
      await database.close()
    },
  }
}

/** The workshop itself says who works in it, where it was told. */
async function openInTheNameOf(
  account: string,
  folder: string,
): Promise<{ database: WorkshopDatabase; who: string }> {
  const names = { who: account, nameSetting: WHO_SETTING }
  const database = await openWorkshopDatabase(folder, { ...names, clock: systemClock, newId: newUuid })
  try {
    const named = (await database.records.findSetting(WHO_SETTING)) ?? ''
    return { database, who: named === '' ? account : named }
  } catch (error) {
    await database.close()
    throw error
  }
}

function filesOfScans(first: LibraryFiles | undefined): () => LibraryFiles {
  let begun = first
  return () => {
    const files = begun ?? openWorkerLibraryFiles()
    begun = undefined
    return files
  }
}

function prepareFolders(folders: readonly string[]): void {
  for (const folder of folders) {
    try {
      makeFolders(folder)
    } catch (error) {
      throw folderFault(error, folder)
    }
  }
}

function folderFault(error: unknown, folder: string): unknown {
  const code = (error as NodeJS.ErrnoException).code
  const fault = (name: string, what: string, mend: string, kind: 'input' | 'machine') =>
    new AppError({ code: `workshop/${name}`, what, where: folder, mend, kind }, { cause: error })
  switch (code) {
    case 'EEXIST':
    case 'ENOTDIR':
      return fault(
        'not-a-folder',
        'The workshop is a folder, and a file lies there.',
        'Name another place with --workshop.',
        'input',
      )
    case 'ENOENT':
      return fault('no-place', 'No folder can be made there.', 'Name another place with --workshop.', 'input')
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
      return fault(
        'no-permission',
        'This user may not write there.',
        'Mend its permissions, or name another place with --workshop.',
        'machine',
      )
    case 'ENOSPC':
    case 'EDQUOT':
      return fault(
        'disk-full',
        'The disk is full.',
        'Free some room, or name a place on another disk with --workshop.',
        'machine',
      )
    default:
      if (code === undefined) return error
      return fault(
        'unreadable',
        `The disk gave an error (${code}).`,
        'Check the disk and its connection, then try again.',
        'machine',
      )
  }
}
