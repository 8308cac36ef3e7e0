import { mkdirSync, statSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { boardText } from '../app/boards/board-text.ts'
import type { Core } from '../app/contract/core.ts'
import { AppError } from '../app/errors/app-error.ts'
import type { LibraryFiles } from '../app/ports/library-files.ts'
import type { WorkshopDatabase } from '../app/ports/workshop-database.ts'
import { WHO_SETTING } from '../app/usecases/change-workshop.ts'
import { createJudging } from '../app/usecases/judging.ts'
import { originalsFrom } from '../app/usecases/keep-originals.ts'
import { createSpeakerLevels } from '../app/usecases/speaker-levels.ts'
import { openNamedLocks } from './adapters/db/open-named-locks.ts'
import { openWorkshopDatabase } from './adapters/db/open-workshop-database.ts'
import { cardTargets } from './adapters/drives/card-targets.ts'
import { cardImages } from './adapters/files/card-images.ts'
import { cardObserver } from './adapters/files/card-observer.ts'
import { cardReader } from './adapters/files/card-reader.ts'
import { contentStore } from './adapters/files/content-store.ts'
import { newSha256 } from './adapters/files/new-sha256.ts'
import { openPeaksPacks } from './adapters/files/peaks-packs.ts'
import { preparedFolders } from './adapters/files/prepared-folders.ts'
import { resourcesFolder } from './adapters/files/resources-folder.ts'
import { workshopTexts } from './adapters/files/workshop-texts.ts'
import { writtenDemoFolder } from './adapters/files/written-demo-folder.ts'
import { coreOf } from './core.ts'
import { newUuid, systemClock } from './machine.ts'
import { productVersion } from './product-version.ts'
import type { OpenSound } from './sound-opener.ts'
import { speakerMeter } from './speaker-meter.ts'
import { soundOpener } from './stored-sounds.ts'
import { openWorkerInspector } from './workers/worker-inspector.ts'
import { openWorkerPreparer } from './workers/worker-preparer.ts'
import { openWorkerLibraryFiles } from './workers/worker-library-files.ts'
import { workshopBoards } from './workshop-boards.ts'
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
 * @throws AppError `workshop/not-a-folder`, `workshop/no-permission`, `workshop/disk-full` and those
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
  const store = contentStore(paths.store)
  const boards = workshopBoards(folder)
  const locks = openNamedLocks(folder, { who, clock })
  const speakerLevels = createSpeakerLevels({
    database,
    meter: speakerMeter({ store, openFiles: openWorkerLibraryFiles, inspector }),
  })
  const judging = createJudging({ database, getScheme: (id) => boards.getScheme(id), speakerLevels })
  const core = coreOf({
    paths,
    who,
    boards,
    judging,
    texts: workshopTexts(folder),
    observer: cardObserver(inspector),
    scan: {
      database,
      openFiles: filesOfScans(firstScan),
      inspector,
      peaks,
      locks,
      clock,
      elapsedMs: () => performance.now(),
    },
    cards: {
      database,
      async getBoard(boardId) {
        const { board } = await boards.get(boardId)
        return { board, text: boardText(board), scheme: await boards.getScheme(board.names.scheme) }
      },
      judgeAll: (...asked) => judging.judgeAll(...asked),
      judgeCard: (...asked) => judging.judgeCard(...asked),
      store,
      originals: originalsFrom(store, openWorkerLibraryFiles),
      images: cardImages,
      reader: cardReader,
      openDocuments: async () => (await import('./adapters/documents/licence-documents.ts')).licenceDocuments,
      newHasher: newSha256,
      clock,
      toolVersion,
    },
    targets: cardTargets,
    preparing: {
      preparer: openWorkerPreparer({ scratchFolder: paths.scratch }),
      peaks,
      speakerLevels,
      locks,
      folders: preparedFolders,
    },
    demo: {
      scenarioText: () => readFile(join(resourcesFolder(), 'demo', 'scenario.yaml'), 'utf8'),
      folder: (name) => writtenDemoFolder(join(folder, name)),
    },
  })
  return {
    folder,
    core,
    openSound: soundOpener({
      library: database.library,
      preparation: database.preparation,
      boardHashOf: async (boardId) => (await boards.get(boardId)).board.hash,
      store,
      openFiles: openWorkerLibraryFiles,
    }),
    onForeignChange: (listener) => database.onForeignChange(listener),
    async close() {
      await inspector.close()
      await peaks.close()
      await database.close()
    },
  }
}

/** The workshop itself says who works in it, where it was told; the database must be opened to know. */
async function openInTheNameOf(
  account: string,
  folder: string,
): Promise<{ database: WorkshopDatabase; who: string }> {
  const open = (who: string) => openWorkshopDatabase(folder, { who, clock: systemClock, newId: newUuid })
  const database = await open(account)
  const who = await nameIn(database)
  if (who === '' || who === account) return { database, who: account }
  await database.close()
  return { database: await open(who), who }
}

async function nameIn(database: WorkshopDatabase): Promise<string> {
  try {
    return (await database.records.findSetting(WHO_SETTING)) ?? ''
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
      mkdirSync(folder, { recursive: true })
      if (!statSync(folder).isDirectory()) throw Object.assign(new Error(folder), { code: 'ENOTDIR' })
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
