import type { LibraryFiles, LookedAt } from '../../ports/library-files.ts'
import type { SoundInspector } from '../../ports/sound-inspector.ts'
import type { LibraryReader } from '../../ports/library-records.ts'
import type { FormerProblems, Gathered } from './gathered.ts'
import type { InspectionKeeper } from './inspection-keeper.ts'
import type { KnownFiles } from './known-files.ts'
import type { RoleReading } from './role-reading.ts'
import type { ScanProgress } from './scan-progress.ts'

/** All that the steps of one root's scan share. */
export interface RootScan {
  readonly root: LookedAt
  /** What the root's folder is called, and the folder that holds it; for naming fonts. */
  readonly rootLabel: string
  readonly aboveLabel: string | null
  readonly files: LibraryFiles
  /** Absolute path of a file or folder of the tree. */
  pathOf(below: string): string
  readonly inspector: SoundInspector
  readonly library: LibraryReader
  readonly roles: RoleReading
  readonly known: KnownFiles
  readonly former: FormerProblems
  readonly keeper: InspectionKeeper
  readonly progress: ScanProgress
  readonly passwords: ReadonlyMap<string, string>
  readonly out: Gathered
}

/** A settings text or a picture is small; what is larger is something else that lies about. */
export const LARGEST_COMPANION_BYTES = 64 * 2 ** 20

/** No file on a FAT volume is larger: its size field has 32 bits (Microsoft, FAT specification 1.03). */
export const LARGEST_SOUND_BYTES = 2 ** 32 - 1

export const SOUND_TOO_LARGE =
  'It is larger than 4 GiB, more than a file on a card can be, so it was not read; shorten it, or move it away.'
export const COMPANION_TOO_LARGE = `It is no sound and larger than ${LARGEST_COMPANION_BYTES / 2 ** 20} MiB, so it is not kept with the font.`
export const ARCHIVE_BY_CONTENT =
  'It is an archive that is not called one, so it was not opened; if fonts are in it, rename it to .zip or unpack it.'
export const SOUND_BY_CONTENT =
  'It holds a WAV sound, but its name does not end in .wav, so no board would play it; rename it if it belongs to the font.'
