import type { Clock, NewId } from '../../../app/ports/machine.ts'
import type {
  LibraryReader,
  LibraryWriter,
  ScanApplied,
  ScanOutcome,
  ScannedEdition,
} from '../../../app/ports/library-records.ts'
import type { RecordsReader, RecordsWriter } from '../../../app/ports/bench-records.ts'
import type { WorkshopDatabase, WriteTransaction } from '../../../app/ports/workshop-database.ts'
import type { Repository } from './database-messages.ts'
import { startDatabaseWorker, type DatabaseWorker } from './database-worker.ts'

/** Ids a single write may need: a row, the people it names, its notes. */
const IDS_A_WRITE = 8
/** Rows in one message: some milliseconds of work for the worker, and a small message. */
const ROWS_A_STEP = 2000

const LIBRARY_READS = [
  'listRoots',
  'findRootByPath',
  'listEditions',
  'getEditions',
  'findLastScan',
  'listKnownFiles',
  'findPeaks',
  'knownInspections',
  'listEditionIdentities',
  'listScanProblems',
  'findSound',
  'findContentPlaces',
] as const satisfies readonly (keyof LibraryReader)[]
const LIBRARY_WRITES = [
  'addRoot',
  'removeRoot',
  'keepInspections',
  'noteUnchangedScan',
  'changeFont',
] as const satisfies readonly (keyof LibraryWriter)[]
const RECORDS_READS = [
  'listCreators',
  'findCreatorByName',
  'listLicences',
  'listLicencesOfFonts',
  'listBuilds',
  'findBuildByCode',
  'listContents',
  'findContent',
  'findSetting',
  'findBoardText',
  'listJournal',
] as const satisfies readonly (keyof RecordsReader)[]
const RECORDS_WRITES = [
  'addCreator',
  'changeCreator',
  'addLicence',
  'changeLicence',
  'removeLicence',
  'addBuild',
  'changeBuild',
  'addContent',
  'replaceContent',
  'keepBoardText',
  'setSetting',
] as const satisfies readonly (keyof RecordsWriter)[]

export interface DatabaseOptions {
  /** Stands in the journal beside every edit. */
  readonly who: string
  readonly clock: Clock
  readonly newId: NewId
}

type Ask = (of: Repository, method: string, args: readonly unknown[], ids?: number) => Promise<unknown>

/**
 * Opens the database of the workshop in `folder`, making both where they are missing.
 *
 * @throws AppError `workshop/newer`, `workshop/foreign`, `workshop/damaged`, `workshop/no-permission`,
 * `workshop/disk-full`, `workshop/busy`
 */
export async function openWorkshopDatabase(
  folder: string,
  { who, clock, newId }: DatabaseOptions,
): Promise<WorkshopDatabase> {
  const worker = await startDatabaseWorker({ folder, actor: { id: newId(), name: who } })
  const read: Ask = (of, method, args) => worker.ask({ kind: 'read', of, method, args })
  const inside: Ask = (of, method, args, ids = IDS_A_WRITE) =>
    worker.ask({
      kind: 'inside',
      of,
      method,
      args,
      stamp: { at: clock.now(), ids: Array.from({ length: ids }, () => newId()) },
    })
  const insideRead: Ask = (of, method, args) => inside(of, method, args, 0)
  const transaction: WriteTransaction = {
    library: {
      ...libraryReader(insideRead),
      ...(methods(inside, 'library', LIBRARY_WRITES) as Omit<LibraryWriter, 'applyScan'>),
      applyScan: (outcome) => applyScan(inside, outcome),
    },
    records: {
      ...(methods(insideRead, 'records', RECORDS_READS) as RecordsReader),
      ...(methods(inside, 'records', RECORDS_WRITES) as RecordsWriter),
    },
  }
  return {
    library: libraryReader(read),
    records: methods(read, 'records', RECORDS_READS) as RecordsReader,
    inTransaction: oneAfterTheOther((work) => runTransaction(worker, transaction, work)),
    onForeignChange: (listener) => worker.onForeignChange(listener),
    close: () => worker.close(),
  }
}

function libraryReader(ask: Ask): LibraryReader {
  const reader = methods(ask, 'library', LIBRARY_READS) as Omit<LibraryReader, 'getEdition'>
  return {
    ...reader,
    getEdition: async (editionId) => {
      const [edition] = await reader.getEditions([editionId])
      if (edition === undefined) throw new RangeError('getEditions gave nothing for an id')
      return edition
    },
  }
}

function methods(ask: Ask, of: Repository, names: readonly string[]): unknown {
  return Object.fromEntries(names.map((name) => [name, (...args: unknown[]) => ask(of, name, args)]))
}

/** Calls queue up: a process has one transaction open at a time. */
function oneAfterTheOther(
  run: (work: (transaction: WriteTransaction) => Promise<unknown>) => Promise<unknown>,
): WorkshopDatabase['inTransaction'] {
  let last: Promise<unknown> = Promise.resolve()
  return <T>(work: (transaction: WriteTransaction) => Promise<T>) => {
    const mine = last.then(() => run(work))
    last = mine.catch(() => {})
    return mine as Promise<T>
  }
}

async function runTransaction(
  worker: DatabaseWorker,
  transaction: WriteTransaction,
  work: (transaction: WriteTransaction) => Promise<unknown>,
): Promise<unknown> {
  await worker.ask({ kind: 'begin' })
  try {
    const result = await work(transaction)
    await worker.ask({ kind: 'commit' })
    return result
  } catch (error) {
    // What went wrong first is what is told; a worker that is gone has rolled back by dying.
    await worker.ask({ kind: 'rollback' }).catch(() => {})
    throw error
  }
}

async function applyScan(ask: Ask, outcome: ScanOutcome): Promise<ScanApplied> {
  await ask('library', 'beginScan', [outcome.rootId])
  for (const inspections of inSteps(outcome.newInspections, ROWS_A_STEP)) {
    await ask('library', 'keepInspections', [inspections, []])
  }
  for (const peaks of inSteps(outcome.newPeaks, ROWS_A_STEP))
    await ask('library', 'keepInspections', [[], peaks])
  for (const files of inSteps(outcome.files, ROWS_A_STEP)) await ask('library', 'addScannedFiles', [files])
  for (const editions of inSteps(outcome.editions, ROWS_A_STEP, (edition) => edition.sounds.length + 1)) {
    // An edition, its font, place and proposed creator, and an id for each sound.
    const ids = editions.reduce((sum: number, edition: ScannedEdition) => sum + edition.sounds.length + 4, 0)
    await ask('library', 'addScannedEditions', [editions], ids)
  }
  return (await ask('library', 'finishScan', [outcome.problems, outcome.treeDigest])) as ScanApplied
}

/** Cuts a list into pieces of about `weight` each. */
function* inSteps<T>(
  items: readonly T[],
  weight: number,
  weigh: (item: T) => number = () => 1,
): Generator<readonly T[]> {
  let step: T[] = []
  let total = 0
  for (const item of items) {
    step.push(item)
    total += weigh(item)
    if (total < weight) continue
    yield step
    step = []
    total = 0
  }
  if (step.length > 0) yield step
}
