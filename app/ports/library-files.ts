import type { ScanProblem } from '../model/library.ts'
import type { AbortLike } from './progress.ts'

/** What a user named for scanning, as the machine sees it. */
export interface LookedAt {
  /** Absolute, without `.` and `..`. */
  readonly path: string
  readonly kind: 'folder' | 'archive'
}

/**
 * One folder as it was found. File `n` has `names[n]`, `sizesBytes[n]` and so on; sorted by name.
 * Held in columns, since a library has a hundred thousand files and they are all held at once.
 */
export interface WalkedFolder {
  /** Below the root, `/`-joined; empty for the root itself. */
  readonly path: string
  readonly names: readonly string[]
  readonly sizesBytes: Float64Array
  /** Nanoseconds since 1970. */
  readonly modifiedNs: BigInt64Array
  /** Inodes; 0 where the file system has none. */
  readonly fileKeys: BigUint64Array
  /** Names of folders that operating systems leave behind: not entered. */
  readonly litterFolders: readonly string[]
}

export interface WalkedTree {
  /** SHA-256 over everything below: the same tree has the same. */
  readonly digest: string
  /** Parents before their children; null where `digest` is the one that was known. */
  readonly folders: readonly WalkedFolder[] | null
  /** Links, special files, folders that may not be entered ... Their codes begin with `walk/`. */
  readonly problems: readonly ScanProblem[]
}

/** A file to hash; `sizeBytes` as the walk saw it. */
export interface FileToHash {
  readonly path: string
  readonly sizeBytes: number
}

export interface HashedFile {
  /** Null where it could not be read; `problem` tells why. */
  readonly sha256: string | null
  readonly sizeBytes: number
  /** What its first bytes say, whatever it is called. */
  readonly looksLike: 'wav' | 'archive' | null
  readonly problem: { readonly code: string; readonly message: string } | null
}

/** One entry of an archive as its directory tells it. Nothing of it is to be trusted. */
export interface ArchiveEntry {
  readonly index: number
  /** Null where its bytes are no text in the encoding that the entry says. */
  readonly name: string | null
  /** The name for people, odd bytes as `%xx`. */
  readonly shownName: string
  readonly encoding: 'utf-8' | 'cp437'
  readonly kind: 'file' | 'folder' | 'link' | 'other'
  readonly isEncrypted: boolean
  readonly sizeBytes: number
}

/**
 * An opened archive. What is read is bounded while it is unpacked, whatever its headers say, and
 * nothing is written to the disk.
 */
export interface OpenArchive {
  readonly entries: readonly ArchiveEntry[]
  /**
   * Unpacks one entry into memory.
   * @throws AppError with a code that begins with `archive/`: password, checksum, too large, unpacks too far,
   *   overlap, headers that disagree, unknown method
   */
  read(index: number, mostBytes: number): Promise<Uint8Array>
  /** As `read`, for what need only be known again: its bytes stay where they are. @throws as `read` */
  hash(index: number, mostBytes: number): Promise<{ readonly sha256: string; readonly sizeBytes: number }>
  /** Opens an entry that is an archive itself. It shares the bounds of the outer one. @throws as `read`, `openArchive` */
  openInner(index: number, password: string | null): Promise<OpenArchive>
  close(): Promise<void>
}

/** The user's folders and archives: read, never written. */
export interface LibraryFiles {
  /**
   * @throws AppError `scan/no-such-path`, `scan/no-permission`, `scan/not-a-folder-or-archive`,
   *   `scan/archive-kind`
   */
  look(path: string): Promise<LookedAt>
  /** Absolute path of what lies `below` a folder (`/`-joined), as this machine writes it. */
  resolve(folder: string, below: string): string
  /**
   * Looks at every file below a root without opening any. Links are not followed.
   * For a root that is an archive: one folder with that one file.
   * @param knownDigest where the tree has it still, its folders need not be told
   * @throws Cancelled; AppError as `look`
   */
  walk(
    root: LookedAt,
    knownDigest: string | null,
    onFiles: (seen: number) => void,
    cancel: AbortLike,
  ): Promise<WalkedTree>
  /** Calls back once for each file, in order. @throws Cancelled */
  hashFiles(
    files: readonly FileToHash[],
    onDone: (index: number, hashed: HashedFile) => void,
    cancel: AbortLike,
  ): Promise<void>
  /**
   * @param password for its encrypted entries; never kept or logged
   * @throws AppError `archive/damaged`, `archive/kind`, `archive/too-many-entries`, `archive/split` ...; Cancelled
   */
  openArchive(path: string, password: string | null, cancel: AbortLike): Promise<OpenArchive>
  close(): Promise<void>
}
