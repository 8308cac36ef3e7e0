import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { boardText } from '../app/boards/board-text.ts'
import type { Core } from '../app/contract/core.ts'
import type { SoundInspector } from '../app/ports/sound-inspector.ts'
import { createJudging } from '../app/usecases/judging.ts'
import { originalsFrom } from '../app/usecases/keep-originals.ts'
import type { ScanPorts } from '../app/usecases/scan/scan-ports.ts'
import { createSpeakerLevels } from '../app/usecases/speaker-levels.ts'
import { cardTargets } from './adapters/drives/card-targets.ts'
import { cardImages } from './adapters/files/card-images.ts'
import { cardObserver } from './adapters/files/card-observer.ts'
import { cardReader } from './adapters/files/card-reader.ts'
import { contentStore } from './adapters/files/content-store.ts'
import { newSha256 } from './adapters/files/new-sha256.ts'
import { preparedFolders } from './adapters/files/prepared-folders.ts'
import { resourcesFolder } from './adapters/files/resources-folder.ts'
import { workshopTexts } from './adapters/files/workshop-texts.ts'
import { writtenDemoFolder } from './adapters/files/written-demo-folder.ts'
import { coreOf } from './core.ts'
import { speakerMeter } from './speaker-meter.ts'
import type { OpenSound } from './sound-opener.ts'
import { soundOpener } from './stored-sounds.ts'
import { openWorkerLibraryFiles } from './workers/worker-library-files.ts'
import { openWorkerPreparer } from './workers/worker-preparer.ts'
import { workshopBoards } from './workshop-boards.ts'
import type { WorkshopPaths } from './workshop-paths.ts'

/** What the workshop has open already. */
export interface OpenedParts {
  readonly paths: WorkshopPaths
  readonly who: string
  readonly toolVersion: string
  readonly inspector: SoundInspector
  readonly scan: Omit<ScanPorts, 'roles'>
  readonly scanCall: Core['scan']
}

/**
 * The other half of the composition: everything that a scan does without. It is loaded when one of
 * its calls is first asked for, since loading it takes as long as scanning a library that is known.
 */
export function restOfCore({ paths, who, toolVersion, inspector, scan, scanCall }: OpenedParts): {
  readonly core: Core
  readonly openSound: OpenSound
  /** Ends the workers; call it once, with nothing running. */
  close(): Promise<void>
} {
  const { database, peaks, locks, clock } = scan
  const store = contentStore(paths.store)
  const boards = workshopBoards(paths.folder)
  const speakerLevels = createSpeakerLevels({
    database,
    meter: speakerMeter({ store, openFiles: openWorkerLibraryFiles, inspector }),
  })
  const judging = createJudging({ database, getScheme: (id) => boards.getScheme(id), speakerLevels })
  const preparer = openWorkerPreparer({ scratchFolder: paths.scratch })
  const core = coreOf({
    paths,
    who,
    boards,
    judging,
    texts: workshopTexts(paths.folder),
    observer: cardObserver(inspector),
    scan,
    scanCall,
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
      locks,
      images: cardImages,
      reader: cardReader,
      openDocuments: async () => (await import('./adapters/documents/licence-documents.ts')).licenceDocuments,
      newHasher: newSha256,
      clock,
      toolVersion,
    },
    targets: cardTargets,
    preparing: {
      preparer,
      peaks,
      speakerLevels,
      folders: preparedFolders,
    },
    demo: {
      scenarioText: () => readFile(join(resourcesFolder(), 'demo', 'scenario.yaml'), 'utf8'),
      folder: (name) => writtenDemoFolder(join(paths.folder, name)),
    },
  })
  const openSound = soundOpener({
    library: database.library,
    preparation: database.preparation,
    boardHashOf: async (boardId) => (await boards.get(boardId)).board.hash,
    store,
    openFiles: openWorkerLibraryFiles,
  })
  return { core, openSound, close: () => preparer.close() }
}
