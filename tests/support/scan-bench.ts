import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import type { ResponseOf } from '../../app/contract/calls.ts'
import type { PeaksArchive } from '../../app/ports/peaks-archive.ts'
import type { RunControl } from '../../app/ports/progress.ts'
import type { SoundInspector } from '../../app/ports/sound-inspector.ts'
import type { WorkshopDatabase } from '../../app/ports/workshop-database.ts'
import { scanLibrary } from '../../app/usecases/scan-library.ts'
import type { RoleReading } from '../../app/usecases/scan/role-reading.ts'
import { openNamedLocks } from '../../main/adapters/db/open-named-locks.ts'
import { openWorkshopDatabase } from '../../main/adapters/db/open-workshop-database.ts'
import { openWorkerInspector } from '../../main/workers/worker-inspector.ts'
import { openWorkerLibraryFiles } from '../../main/workers/worker-library-files.ts'
import { shippedRoles } from './role-reading.ts'
import { temporaryFolder } from './temporary-folder.ts'

/** A real workshop, as far as scanning needs it, and a folder for a library beside it. */
export interface ScanBench {
  readonly library: string
  readonly database: WorkshopDatabase
  /** Paths that the inspector was asked to read, over all scans. */
  readonly inspected: string[]
  scan(paths?: readonly string[], more?: ScanMore): Promise<ResponseOf<'scan'>>
}

interface ScanMore {
  readonly passwords?: Readonly<Record<string, string>>
  readonly control?: RunControl
  readonly roles?: RoleReading
}

export async function openScanBench(): Promise<ScanBench> {
  const folder = temporaryFolder()
  const clock = { now: () => '2026-11-25T09:30:00Z' }
  const database = await openWorkshopDatabase(join(folder, 'workshop'), {
    who: 'test',
    clock,
    newId: () => crypto.randomUUID(),
  })
  const inspector = openWorkerInspector()
  onTestFinished(async () => {
    await inspector.close()
    await database.close()
  })
  const inspected: string[] = []
  return {
    library: join(folder, 'library'),
    database,
    inspected,
    scan: (paths = [join(folder, 'library')], { passwords, control = QUIET, roles = shippedRoles } = {}) =>
      scanLibrary(
        {
          database,
          openFiles: openWorkerLibraryFiles,
          inspector: listening(inspector, inspected),
          peaks: peaksInMemory(),
          locks: openNamedLocks(join(folder, 'workshop'), { who: 'test', clock }),
          clock,
          elapsedMs: () => performance.now(),
          roles: { key: roles.key, open: () => Promise.resolve(roles) },
        },
        { paths, passwords },
        control,
      ),
  }
}

const QUIET: RunControl = { onProgress: () => {}, cancel: new AbortController().signal }

/** The real inspector, with a note of what it was asked for. */
function listening(inspector: SoundInspector, inspected: string[]): SoundInspector {
  return {
    inspectFiles: (files, onDone, cancel) => {
      inspected.push(...files.map(({ path }) => path))
      return inspector.inspectFiles(files, onDone, cancel)
    },
    inspectBytes: (bytes, name, cancel) => {
      inspected.push(name)
      return inspector.inspectBytes(bytes, name, cancel)
    },
    measureThroughSpeaker: (...args) => inspector.measureThroughSpeaker(...args),
    close: () => inspector.close(),
  }
}

function peaksInMemory(): PeaksArchive {
  const kept: Uint8Array[] = []
  return {
    append: (peaks) =>
      Promise.resolve(
        peaks.map(({ sha256, bytes }) => ({
          sha256,
          pack: 'memory',
          offsetBytes: kept.push(bytes) - 1,
          lengthBytes: bytes.length,
        })),
      ),
    read: ({ offsetBytes }) => Promise.resolve(kept[offsetBytes] ?? new Uint8Array()),
  }
}
