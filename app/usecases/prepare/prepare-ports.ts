import type { NamedLocks } from '../../ports/named-locks.ts'
import type { PeaksArchive } from '../../ports/peaks-archive.ts'
import type { PreparedFolders } from '../../ports/prepared-folders.ts'
import type { SoundPreparer } from '../../ports/sound-preparer.ts'
import type { CardPorts } from '../card-ports.ts'
import type { SpeakerLevels } from '../speaker-levels.ts'

/** What preparing needs from outside. */
export interface PreparePorts extends Pick<
  CardPorts,
  'database' | 'getBoard' | 'store' | 'originals' | 'newHasher'
> {
  readonly preparer: SoundPreparer
  readonly peaks: PeaksArchive
  readonly speakerLevels: SpeakerLevels
  readonly locks: NamedLocks
  readonly folders: PreparedFolders
}
