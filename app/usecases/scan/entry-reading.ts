import { AppError } from '../../errors/app-error.ts'
import type { OpenArchive } from '../../ports/library-files.ts'
import type { RecordedEntry } from './archive-editions.ts'
import { INTO_ARCHIVE } from './known-files.ts'
import { LARGEST_COMPANION_BYTES, type RootScan } from './root-scan.ts'
import { takeInspected } from './take-inspected.ts'
import type { VettedEntry } from './vet-entries.ts'

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
/** The reading of one archive's entries, with what it has come to. */
export class EntryReading {
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
        const bytes = await this.attempt(entry, () =>
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
      const hashed = await this.attempt(entry, () => this.#archive.hash(entry.index, LARGEST_COMPANION_BYTES))
      if (hashed === null) continue
      this.entries.push({ path: entry.path, ...hashed })
      this.#scan.out.filesRead += 1
      this.#scan.out.bytesRead += hashed.sizeBytes
      this.#scan.progress.read(this.#shown + INTO_ARCHIVE + entry.path)
    }
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
  async attempt<T>(entry: VettedEntry, act: () => Promise<T>): Promise<T | null> {
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
