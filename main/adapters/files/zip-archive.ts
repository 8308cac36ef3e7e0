import { configure, Reader, ZipReader, type Entry, type FileEntry } from '@zip.js/zip.js/index-native.js'
import type { ByteSource } from '../../../app/ports/bytes.ts'
import type { ArchiveEntry } from '../../../app/ports/library-files.ts'
import * as bounds from './archive-bounds.ts'
import { archiveFault, asArchiveFault, needsPassword } from './archive-faults.ts'
import { nameOfEntry } from './entry-name.ts'

// The reading runs in a worker of ours already; more of them would only cost memory.
configure({ useWebWorkers: false })

/** What an archive and all archives inside it have unpacked so far. */
interface Budget {
  unpackedBytes: number
}

/**
 * A zip archive, read entry by entry into memory. Nothing in its headers is trusted: names are only
 * told, sizes bounded while unpacking, checksums compared, and an entry whose two headers disagree,
 * or whose bytes belong to another too, is refused.
 *
 * Source: PKWARE APPNOTE.TXT 6.3.10, sections 4.3 and 4.4.
 */
export class ZipArchive {
  readonly entries: readonly ArchiveEntry[]
  readonly #files: readonly Entry[]
  readonly #password: string | null
  readonly #depth: number
  readonly #budget: Budget

  private constructor(files: readonly Entry[], password: string | null, depth: number, budget: Budget) {
    this.#files = files
    this.#password = password
    this.#depth = depth
    this.#budget = budget
    this.entries = files.map(entryOf)
  }

  /** @throws AppError `archive/…` */
  static open(source: ByteSource, password: string | null): Promise<ZipArchive> {
    return ZipArchive.#openAt(source, password, 1, { unpackedBytes: 0 })
  }

  static async #openAt(
    source: ByteSource,
    password: string | null,
    depth: number,
    budget: Budget,
  ): Promise<ZipArchive> {
    if (source.sizeBytes === 0) {
      throw archiveFault(
        'empty-file',
        'It is called an archive and has no bytes at all.',
        'Get it again from where it came.',
      )
    }
    try {
      const reader = new ZipReader(new SourceReader(source), {
        filenameValidation: 'tolerant', // vetEntries judges names, and says which and why
        checkLocalFilename: true,
        checkOverlappingEntry: true,
        checkCrc32: true,
      })
      const files: Entry[] = []
      for await (const entry of reader.getEntriesGenerator()) {
        if (files.push(entry) > bounds.MOST_ENTRIES) throw tooManyEntries()
      }
      return new ZipArchive(files, password, depth, budget)
    } catch (error) {
      throw asArchiveFault(error, false)
    }
  }

  /** Unpacks one entry into memory. @throws AppError `archive/…` */
  async read(index: number, mostBytes: number): Promise<Uint8Array> {
    const entry = this.#files[index]
    if (entry === undefined || entry.directory) throw new RangeError(`no file at entry ${index}`)
    if (entry.encrypted && this.#password === null) throw needsPassword()
    if (entry.uncompressedSize > mostBytes) throw tooLarge(mostBytes)
    const into = new BoundedBytes(entry, this.#budget)
    try {
      await entry.getData(into.writable, entry.encrypted ? { password: this.#password ?? '' } : {})
    } catch (error) {
      throw asArchiveFault(into.fault ?? error, entry.encrypted)
    }
    return into.bytes()
  }

  /** Opens an archive inside this one. @throws AppError `archive/…` */
  async openInner(index: number, password: string | null): Promise<ZipArchive> {
    if (this.#depth >= bounds.DEEPEST_ARCHIVES) {
      throw archiveFault(
        'too-deep',
        `It lies more than ${bounds.DEEPEST_ARCHIVES - 1} archive deep in others.`,
        'Unpack the outer one, and scan the folder.',
      )
    }
    const bytes = await this.read(index, bounds.LARGEST_ENTRY_BYTES)
    return ZipArchive.#openAt(sourceOf(bytes), password, this.#depth + 1, this.#budget)
  }
}

/** Takes unpacked bytes and stops the unpacking where it goes too far. */
class BoundedBytes {
  /** The library reports an error of its own where this one broke off. */
  fault: Error | null = null
  readonly writable: WritableStream<Uint8Array>
  readonly #bytes: Uint8Array
  #length = 0

  constructor(entry: FileEntry, budget: Budget) {
    this.#bytes = new Uint8Array(entry.uncompressedSize)
    this.writable = new WritableStream({ write: (chunk) => this.#take(chunk, entry, budget) })
  }

  #take(chunk: Uint8Array, entry: FileEntry, budget: Budget): void {
    const length = this.#length + chunk.length
    budget.unpackedBytes += chunk.length
    this.fault = faultOfLength(length, entry, budget)
    if (this.fault !== null) throw this.fault
    this.#bytes.set(chunk, this.#length)
    this.#length = length
  }

  bytes(): Uint8Array {
    return this.#length === this.#bytes.length ? this.#bytes : this.#bytes.slice(0, this.#length)
  }
}

function faultOfLength(length: number, entry: FileEntry, budget: Budget): Error | null {
  if (length > bounds.RATIO_FREE_BYTES && length > entry.compressedSize * bounds.MOST_RATIO) {
    return archiveFault(
      'unpacks-too-far',
      `It unpacks to more than ${bounds.MOST_RATIO} times its size, as archives do that are made to fill a disk.`,
      'Unpack it yourself if you trust it, and scan the folder.',
    )
  }
  if (length > entry.uncompressedSize) {
    return archiveFault('size-lies', 'It unpacks to more than its headers say.', 'Do not trust this archive.')
  }
  if (budget.unpackedBytes > bounds.MOST_UNPACKED_BYTES) {
    return archiveFault(
      'too-large',
      'The archive unpacks to more than 4 GiB.',
      'Unpack it, and scan the folder.',
    )
  }
  return null
}

function entryOf(entry: Entry, index: number): ArchiveEntry {
  const { name, shownName, encoding } = nameOfEntry(entry.rawFilename, entry.filenameUTF8, entry.filename)
  return {
    index,
    name,
    shownName,
    encoding,
    kind: kindOf(entry),
    isEncrypted: entry.encrypted,
    sizeBytes: entry.uncompressedSize,
  }
}

function kindOf(entry: Entry): ArchiveEntry['kind'] {
  if (entry.symlink) return 'link'
  if (entry.directory) return 'folder'
  // The file type bits of a Unix mode: 0 where the packing system was another.
  const type = ((entry.unixMode ?? 0) >> 12) & 0o17
  return type === 0 || type === 0o10 ? 'file' : 'other'
}

/** A source as the library reads it. */
class SourceReader extends Reader<ByteSource> {
  readonly #source: ByteSource

  constructor(source: ByteSource) {
    super(source)
    this.#source = source
    this.size = source.sizeBytes
  }

  override readUint8Array(offset: number, length: number): Promise<Uint8Array> {
    const bytes = new Uint8Array(Math.max(0, Math.min(length, this.size - offset)))
    return Promise.resolve(bytes.subarray(0, this.#source.readInto(bytes, offset)))
  }
}

function sourceOf(bytes: Uint8Array): ByteSource {
  return {
    sizeBytes: bytes.length,
    readInto: (target, at) => {
      const part = bytes.subarray(at, at + target.length)
      target.set(part)
      return part.length
    },
  }
}

function tooManyEntries(): Error {
  return archiveFault(
    'too-many-entries',
    `It holds more than ${bounds.MOST_ENTRIES.toLocaleString('en')} entries, so none was read.`,
    'Unpack it, and scan the folder.',
  )
}

function tooLarge(mostBytes: number): Error {
  return archiveFault(
    'entry-too-large',
    `It is larger than the ${Math.floor(mostBytes / 2 ** 20)} MiB that are read from inside an archive.`,
    'Unpack the archive, and scan the folder.',
  )
}
