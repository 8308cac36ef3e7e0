import { AppError } from '../../errors/app-error.ts'
import type { OpenArchive } from '../../ports/library-files.ts'
import type { RecordedEntry } from './archive-editions.ts'
import { kindOfFile } from './file-kinds.ts'
import { findEditions } from './find-editions.ts'
import { takeInspected } from './gather-folders.ts'
import { INTO_ARCHIVE } from './known-files.ts'
import { COMPANION_TOO_LARGE, LARGEST_COMPANION_BYTES, type RootScan } from './root-scan.ts'
import { treeOfPaths } from './tree-of-paths.ts'
import { vetEntries, type VettedEntry } from './vet-entries.ts'

/** What was found in an archive, archives in it included. */
export interface ReadArchive {
  readonly entries: readonly RecordedEntry[]
  readonly inner: readonly { readonly path: string; readonly read: ReadArchive }[]
  /** Something in it may be read the next time: with a password, from a disk that is well. */
  readonly mustRetry: boolean
}

/** Faults that are not the archive's own: it is tried again by every scan. */
export const RETRY_CODES: ReadonlySet<string> = new Set([
  'archive/password-needed',
  'archive/password-wrong',
  'archive/unreadable',
])

/** A sound is unpacked into memory whole; the reader has a bound of its own besides. */
const LARGEST_UNPACKED_SOUND_BYTES = 128 * 2 ** 20
/** Sounds unpacked and not yet measured: one for each of two workers. */
const INSPECTED_AT_ONCE = 2
/** Entries told one by one for the same reason; an archive made to annoy has thousands. */
const TOLD_ONE_BY_ONE = 20

/**
 * Reads the sounds and companions of an opened archive into memory, one by one, and those of archives
 * in it. Nothing is written to the disk.
 *
 * @param shown what people see as the archive's path
 */
export async function readArchive(scan: RootScan, archive: OpenArchive, shown: string): Promise<ReadArchive> {
  const vetted = vetEntries(archive.entries)
  tellVetted(scan, archive, vetted, shown)
  const wanted = sortOut(scan, vetted.files, shown)
  scan.progress.expect(wanted.sounds.length + wanted.companions.length)
  const reading = new EntryReading(scan, archive, shown)
  await reading.readSounds(wanted.sounds)
  await reading.hashCompanions(wanted.companions)
  const inner = await reading.readInner(wanted.archives)
  reading.tellLocked()
  if (
    wanted.sounds.length === 0 &&
    inner.length === 0 &&
    vetted.refused.length === 0 &&
    wanted.archives.length === 0
  ) {
    scan.out.note(shown, 'archive/no-sounds', 'No sounds are in it.')
  }
  return {
    entries: [...reading.entries, ...wanted.litter.map((path) => ({ path, sizeBytes: 0, sha256: '' }))],
    inner,
    mustRetry: reading.mustRetry || inner.some(({ read }) => read.mustRetry),
  }
}

interface Wanted {
  readonly sounds: readonly VettedEntry[]
  readonly companions: readonly VettedEntry[]
  readonly archives: readonly VettedEntry[]
  readonly litter: readonly string[]
}

/** Only what belongs to an edition is unpacked. */
function sortOut(scan: RootScan, files: readonly VettedEntry[], shown: string): Wanted {
  const tree = treeOfPaths(files.map(({ path }) => path))
  const entryAt = (folder: number, file: number) => files[tree.origins[folder]?.[file] ?? -1]
  const sounds: VettedEntry[] = []
  const companions: VettedEntry[] = []
  const litter: string[] = []
  for (const edition of findEditions(tree.folders, scan.roles)) {
    const top = edition.path === '' ? '' : `${edition.path}/`
    // A folder of litter is known again by anything in it.
    litter.push(...edition.litter.map((path) => top + (path.endsWith('/') ? `${path}.` : path)))
    for (const { folder, file } of edition.sounds) {
      const entry = entryAt(folder, file)
      if (entry !== undefined) sounds.push(entry)
    }
    for (const { folder, file } of edition.companions) {
      const entry = entryAt(folder, file)
      if (entry === undefined) continue
      if (entry.sizeBytes <= LARGEST_COMPANION_BYTES) companions.push(entry)
      else scan.out.note(shown + INTO_ARCHIVE + entry.path, 'scan/companion-too-large', COMPANION_TOO_LARGE)
    }
  }
  const archives: VettedEntry[] = []
  for (const [folder, { names }] of tree.folders.entries()) {
    for (const [file, name] of names.entries()) {
      const kind = kindOfFile(name)
      const entry = kind === 'zip' || kind === 'other-archive' ? entryAt(folder, file) : undefined
      if (entry !== undefined) archives.push(entry)
    }
  }
  return { sounds, companions, archives, litter }
}

/** The reading of one archive's entries, with what it has come to. */
class EntryReading {
  readonly entries: RecordedEntry[] = []
  mustRetry = false
  readonly #scan: RootScan
  readonly #archive: OpenArchive
  readonly #shown: string
  /** Entries that wait for a password, or for the right one. */
  readonly #locked = { needed: 0, wrong: 0, opened: 0 }

  constructor(scan: RootScan, archive: OpenArchive, shown: string) {
    this.#scan = scan
    this.#archive = archive
    this.#shown = shown
  }

  async readSounds(sounds: readonly VettedEntry[]): Promise<void> {
    const running = new Set<Promise<void>>()
    try {
      for (const entry of sounds) {
        const bytes = await this.#attempt(entry, () =>
          this.#archive.read(entry.index, LARGEST_UNPACKED_SOUND_BYTES),
        )
        if (bytes === null) continue
        const inspecting = this.#inspect(entry, bytes).finally(() => running.delete(inspecting))
        // Met by whoever awaits it below; until then it must not count as unhandled.
        inspecting.catch(() => {})
        running.add(inspecting)
        if (running.size >= INSPECTED_AT_ONCE) await Promise.race(running)
      }
    } finally {
      await Promise.all(running)
    }
    await this.#scan.keeper.settle()
  }

  async #inspect(entry: VettedEntry, bytes: Uint8Array): Promise<void> {
    const path = this.#shown + INTO_ARCHIVE + entry.path
    const sizeBytes = bytes.length
    const inspected = await this.#scan.inspector.inspectBytes(bytes, path, this.#scan.progress.control.cancel)
    this.entries.push({ path: entry.path, sizeBytes, sha256: takeInspected(this.#scan, path, inspected) })
  }

  async hashCompanions(companions: readonly VettedEntry[]): Promise<void> {
    for (const entry of companions) {
      const hashed = await this.#attempt(entry, () =>
        this.#archive.hash(entry.index, LARGEST_COMPANION_BYTES),
      )
      if (hashed === null) continue
      this.entries.push({ path: entry.path, ...hashed })
      this.#scan.out.filesRead += 1
      this.#scan.out.bytesRead += hashed.sizeBytes
      this.#scan.progress.read(this.#shown + INTO_ARCHIVE + entry.path)
    }
  }

  async readInner(archives: readonly VettedEntry[]): Promise<ReadArchive['inner']> {
    const read: { path: string; read: ReadArchive }[] = []
    for (const entry of archives) {
      const shown = this.#shown + INTO_ARCHIVE + entry.path
      const password = this.#scan.passwords.get(shown) ?? null
      const inner = await this.#attempt(entry, () => this.#archive.openInner(entry.index, password))
      if (inner === null) continue
      this.entries.push({ path: entry.path, sizeBytes: entry.sizeBytes, sha256: '' })
      try {
        read.push({ path: entry.path, read: await readArchive(this.#scan, inner, shown) })
      } finally {
        await inner.close()
      }
    }
    return read
  }

  /** One password opens an archive, or does not: it is told once, not for each entry. */
  tellLocked(): void {
    const { needed, wrong } = this.#locked
    if (needed > 0) {
      this.#scan.out.fault(
        this.#shown,
        'archive/password-needed',
        `${counted(needed)} locked with a password. Give it by --password ARCHIVE=PASSWORD; it is not kept.`,
      )
    }
    if (wrong > 0) {
      this.#scan.out.fault(
        this.#shown,
        'archive/password-wrong',
        `The password does not open ${wrong === 1 ? 'one file' : `${wrong} files`} in it. Give the right one; it is not kept.`,
      )
    }
  }

  /** @returns null where the entry cannot be had, which is told @throws what is no fault of the archive */
  async #attempt<T>(entry: VettedEntry, act: () => Promise<T>): Promise<T | null> {
    this.#scan.progress.check()
    if (entry.isEncrypted && this.#locked.opened === 0 && this.#locked.needed + this.#locked.wrong > 0) {
      this.#locked[this.#locked.needed > 0 ? 'needed' : 'wrong'] += 1
      return null
    }
    try {
      const result = await act()
      if (entry.isEncrypted) this.#locked.opened += 1
      return result
    } catch (error) {
      if (!(error instanceof AppError) || !error.code.startsWith('archive/')) throw error
      this.mustRetry ||= RETRY_CODES.has(error.code)
      if (error.code === 'archive/password-needed') this.#locked.needed += 1
      else if (error.code === 'archive/password-wrong') this.#locked.wrong += 1
      else
        this.#scan.out.fault(
          this.#shown + INTO_ARCHIVE + entry.path,
          error.code,
          `${error.what} ${error.mend}`,
        )
      return null
    }
  }
}

function counted(files: number): string {
  return files === 1 ? 'One file in it is' : `${files} files in it are`
}

function tellVetted(
  scan: RootScan,
  archive: OpenArchive,
  { refused, oldNames }: ReturnType<typeof vetEntries>,
  shown: string,
): void {
  const told = new Map<string, number>()
  for (const { index, code, message } of refused) {
    const count = (told.get(code) ?? 0) + 1
    told.set(code, count)
    if (count > TOLD_ONE_BY_ONE) continue
    scan.out.fault(shown + INTO_ARCHIVE + (archive.entries[index]?.shownName ?? ''), code, message)
  }
  for (const [code, count] of told) {
    const more = count - TOLD_ONE_BY_ONE
    if (more > 0)
      scan.out.fault(shown, code, `${more} more of its entries were left out for the same reason (${code}).`)
  }
  if (oldNames !== null) {
    const { count, example } = oldNames
    scan.out.note(
      shown,
      'archive/old-names',
      `${count === 1 ? 'One name in it is' : `${count} names in it are`} not UTF-8 and read as code page 437, such as ${example}.`,
    )
  }
}
