import type { Edition, EditionPlace, EditionSummary, ScanProblem, ScanRoot } from '../model/library.ts'
import type { RoleSource, SoundPlace } from '../model/role.ts'
import type { Companion, SoundInspection } from '../model/sound.ts'
import type { PeaksPlace } from './peaks-archive.ts'
import type { SpeakerReadings } from './sound-inspector.ts'

/** A list that is only asked for in parts, and so need not stand in memory as a whole; any array is one. */
export interface Rows<T> {
  readonly length: number
  slice(start: number, end: number): readonly T[]
}

/** What the last scan knew of one file of a root, so that the next one reads only what changed. */
export interface KnownFile {
  /** Below the root, `/`-joined; entries of archives as `archive.zip!/inner/path`. */
  readonly path: string
  readonly sizeBytes: number
  /** Nanoseconds since 1970 as a decimal string: too large for a number. */
  readonly modifiedNs: string
  /** Inode where the file system has one; empty otherwise. Devices are renumbered from mount to mount. */
  readonly fileKey: string
  /** Null where the file could not be read; empty for an archive that was, and for what need not be. */
  readonly sha256: string | null
}

/** A sound of a scanned edition, without what is kept by content. */
export interface ScannedSound {
  readonly path: string
  readonly sha256: string
  readonly place: SoundPlace | null
  readonly roleSource: RoleSource | null
}

/** An edition as one scan found it in one place. */
export interface ScannedEdition {
  readonly place: Omit<EditionPlace, 'rootId' | 'state'>
  readonly fontName: string
  readonly version: string
  readonly proposedCreatorName: string | null
  readonly schemeId: string | null
  readonly sounds: readonly ScannedSound[]
  readonly companions: readonly Companion[]
  readonly litter: readonly string[]
  /**
   * The edition this one is (same place, or the same sounds elsewhere); null for a new one. Several new
   * ones with the same sounds become one in several places.
   */
  readonly editionId: string | null
}

/** All that one finished scan of one root has to write: applied in one transaction. */
export interface ScanOutcome {
  readonly rootId: string
  readonly at: string
  /** Only contents that the workshop did not know before. */
  readonly newInspections: readonly SoundInspection[]
  readonly newPeaks: readonly PeaksPlace[]
  /** Complete list of the root's files; replaces what was known. */
  readonly files: Rows<KnownFile>
  /** Complete list of the root's editions; places of the root that are not among them become `gone`. */
  readonly editions: readonly ScannedEdition[]
  readonly problems: readonly ScanProblem[]
  /** What the next scan compares the tree with; null where it must look at everything again. */
  readonly treeDigest: string | null
}

/** What is left to say of a root when nothing in it has changed since its last scan. */
export interface LastScan {
  readonly treeDigest: string | null
  /** Editions and sounds that are present in the root. */
  readonly editionCount: number
  readonly soundCount: number
}

/** How an edition can be known again: where it lies, and the hashes of its sounds. */
export interface EditionIdentity {
  readonly editionId: string
  readonly places: readonly EditionPlace[]
  /** SHA-256 of each sound, sorted; repeated where a sound is there twice. */
  readonly soundHashes: readonly string[]
}

export interface FontChange {
  readonly name?: string
  readonly version?: string
  readonly creatorId?: string | null
}

/** What is needed to play a sound. */
export interface FoundSound {
  readonly editionId: string
  /** Inside its edition. */
  readonly path: string
  readonly sha256: string
  readonly sizeBytes: number
}

/** What one sound is for, as somebody or something tells. */
export interface PlaceChange {
  readonly path: string
  readonly place: SoundPlace | null
  readonly roleSource: RoleSource | null
}

/** Loudness of a sound through a speaker, by what the sound is known by: see `soundKeyOf`. */
export interface SpeakerLevel {
  readonly soundKey: string
  readonly readings: SpeakerReadings
}

/** Reading the library. Lists are sorted by font name, then version. */
export interface LibraryReader {
  listRoots(): Promise<readonly ScanRoot[]>
  findRootByPath(path: string): Promise<ScanRoot | undefined>
  listEditions(): Promise<readonly EditionSummary[]>
  /** @throws AppError `font/unknown` */
  getEdition(editionId: string): Promise<Edition>
  /** Full editions of many ids in one read, in the order asked. */
  getEditions(editionIds: readonly string[]): Promise<readonly Edition[]>
  /** Undefined where the root was never scanned to the end. */
  findLastScan(rootId: string): Promise<LastScan | undefined>
  listKnownFiles(rootId: string): Promise<readonly KnownFile[]>
  findPeaks(sha256: string): Promise<PeaksPlace | undefined>
  /** Pack files that hold a waveform on record, sorted. */
  listPeaksPacks(): Promise<readonly string[]>
  /** Which of these contents are already inspected. */
  knownInspections(sha256s: readonly string[]): Promise<readonly string[]>
  listEditionIdentities(): Promise<readonly EditionIdentity[]>
  listScanProblems(): Promise<readonly (ScanProblem & { readonly rootId: string })[]>
  /** One sound by its id, without its measures. */
  findSound(soundId: string): Promise<FoundSound | undefined>
  /** Where bytes of this hash were last seen, in roots that are still listed: candidates for reading them again. */
  findContentPlaces(sha256: string): Promise<readonly { readonly rootPath: string; readonly path: string }[]>
  /** What was measured of these through a speaker of this limit, in any order. */
  findSpeakerLevels(limitHz: number, soundKeys: readonly string[]): Promise<readonly SpeakerLevel[]>
  /** All that was ever measured through a speaker of this limit. */
  listSpeakerLevels(limitHz: number): Promise<readonly SpeakerLevel[]>
}

/** Writing the library; only inside `inTransaction`. */
export interface LibraryWriter {
  /** A root of this path that is listed, or was removed, is the same root again. */
  addRoot(root: Omit<ScanRoot, 'id' | 'lastScanAt'>): Promise<ScanRoot>
  /** Marks the root's editions gone; records stay. @throws AppError `root/unknown` */
  removeRoot(rootId: string): Promise<void>
  /**
   * What reading contents has told, ahead of the scan's end: kept by content, it changes nothing that
   * is shown, and a scan that is broken off need not measure twice.
   */
  keepInspections(inspections: readonly SoundInspection[], peaks: readonly PeaksPlace[]): Promise<void>
  /** Computed, and so not journalled. */
  keepSpeakerLevels(limitHz: number, levels: readonly SpeakerLevel[]): Promise<void>
  applyScan(outcome: ScanOutcome): Promise<ScanApplied>
  /** Notes that a root was looked at and nothing had changed. */
  noteUnchangedScan(rootId: string, at: string): Promise<void>
  /** @throws AppError `font/unknown`, `creator/unknown` */
  changeFont(editionId: string, change: FontChange): Promise<void>
  /**
   * Sets what sounds are for, by their paths; paths that the edition has not are passed over. What is
   * set with the source `user`, a place or none, outlives later scans.
   * @throws AppError `font/unknown`
   */
  setPlaces(editionId: string, changes: readonly PlaceChange[]): Promise<void>
}

/** Every edition of the outcome is counted once, but for `gone`, which counts what it did not find. */
export interface ScanApplied {
  /** Not known before. */
  readonly added: number
  /** Known at this place, and something about it is new. */
  readonly changed: number
  readonly unchanged: number
  /** Known, and found at a place where it was not: moved, copied, or back again. */
  readonly relinked: number
  /** Editions that are in no place at all any longer. */
  readonly gone: number
}
