import type { OpenArchive } from '../../ports/library-files.ts'
import type { RecordedEntry } from './archive-editions.ts'
import { EntryReading } from './entry-reading.ts'
import { kindOfFile } from './file-kinds.ts'
import { findEditions } from './find-editions.ts'
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
  const inner = await readInner(scan, archive, reading, wanted.archives, shown)
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

async function readInner(
  scan: RootScan,
  archive: OpenArchive,
  reading: EntryReading,
  archives: readonly VettedEntry[],
  shownOuter: string,
): Promise<ReadArchive['inner']> {
  const read: { path: string; read: ReadArchive }[] = []
  for (const entry of archives) {
    const shown = shownOuter + INTO_ARCHIVE + entry.path
    const password = scan.passwords.get(shown) ?? null
    const inner = await reading.attempt(entry, () => archive.openInner(entry.index, password))
    if (inner === null) continue
    reading.entries.push({ path: entry.path, sizeBytes: entry.sizeBytes, sha256: '' })
    try {
      read.push({ path: entry.path, read: await readArchive(scan, inner, shown) })
    } finally {
      await inner.close()
    }
  }
  return read
}
