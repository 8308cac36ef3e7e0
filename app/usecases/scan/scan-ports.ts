import type { LibraryFiles } from '../../ports/library-files.ts'
import type { Clock } from '../../ports/machine.ts'
import type { NamedLocks } from '../../ports/named-locks.ts'
import type { PeaksArchive } from '../../ports/peaks-archive.ts'
import type { SoundInspector } from '../../ports/sound-inspector.ts'
import type { WorkshopDatabase } from '../../ports/workshop-database.ts'
import type { RolesOfScan } from './role-reading.ts'

export interface ScanPorts {
  readonly database: WorkshopDatabase
  /** Opens the files for one scan, which closes them. */
  readonly openFiles: () => LibraryFiles
  readonly inspector: SoundInspector
  readonly peaks: PeaksArchive
  readonly locks: NamedLocks
  readonly clock: Clock
  /** Milliseconds from any fixed moment. */
  readonly elapsedMs: () => number
  readonly roles: RolesOfScan
}
