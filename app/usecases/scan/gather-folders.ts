import type { WalkedFolder } from '../../ports/library-files.ts'
import { findEditions, type FoundEdition, type TreeFile } from './find-editions.ts'
import { lookOf } from './file-rows.ts'
import { nameEdition } from './font-name.ts'
import type { FileLook } from './known-files.ts'
import {
  ARCHIVE_BY_CONTENT,
  COMPANION_TOO_LARGE,
  LARGEST_COMPANION_BYTES,
  LARGEST_SOUND_BYTES,
  SOUND_BY_CONTENT,
  SOUND_TOO_LARGE,
  type RootScan,
} from './root-scan.ts'
import { scannedEdition, type HashOf } from './scanned-edition.ts'
import { takeInspected } from './take-inspected.ts'

/**
 * Sounds gone through at once: enough to share out well between workers, few enough that a hundred
 * thousand take no more memory than some thousands.
 */
const SOUNDS_AT_ONCE = 4096

interface FileToRead {
  readonly file: TreeFile
  readonly look: FileLook
  readonly path: string
}

/** Hashes of a tree's files by folder and file; null where a file could not be read. */
class Hashes {
  readonly #byFolder = new Map<number, Map<number, string | null>>()

  set({ folder, file }: TreeFile, sha256: string | null): void {
    const inFolder = this.#byFolder.get(folder)
    if (inFolder === undefined) this.#byFolder.set(folder, new Map([[file, sha256]]))
    else inFolder.set(file, sha256)
  }

  /** Undefined where the file was left out on purpose. */
  get({ folder, file }: TreeFile): string | null | undefined {
    return this.#byFolder.get(folder)?.get(file)
  }
}

/** Finds the editions that lie in plain folders, and reads what has changed of them. */
export async function gatherFolders(scan: RootScan, folders: readonly WalkedFolder[]): Promise<void> {
  const editions = findEditions(folders, scan.roles)
  scan.progress.expect(countChanged(scan, folders, editions))
  for (const group of inGroups(editions)) {
    const hashes = new Hashes()
    const { sounds, companions } = await sortOut(scan, folders, group, hashes)
    await readSounds(scan, sounds, hashes)
    await readCompanions(scan, companions, hashes)
    for (const edition of group) record(scan, folders, edition, hashes)
  }
}

function* inGroups(editions: readonly FoundEdition[]): Generator<readonly FoundEdition[]> {
  let group: FoundEdition[] = []
  let sounds = 0
  for (const edition of editions) {
    group.push(edition)
    sounds += edition.sounds.length
    if (sounds < SOUNDS_AT_ONCE) continue
    yield group
    group = []
    sounds = 0
  }
  yield group
}

/** How many files will be read; moved ones are still to be told from new ones. */
function countChanged(
  scan: RootScan,
  folders: readonly WalkedFolder[],
  editions: readonly FoundEdition[],
): number {
  let changed = 0
  for (const { sounds, companions } of editions) {
    for (const file of [...sounds, ...companions]) {
      const folder = folders[file.folder]
      if (folder !== undefined && scan.known.unchanged(lookOf(folder, file.file)) === null) changed += 1
    }
  }
  return changed
}

/** Takes what is known already; gives what must be read. */
async function sortOut(
  scan: RootScan,
  folders: readonly WalkedFolder[],
  editions: readonly FoundEdition[],
  hashes: Hashes,
): Promise<{ readonly sounds: FileToRead[]; readonly companions: FileToRead[] }> {
  const sounds: FileToRead[] = []
  const companions: FileToRead[] = []
  const moved: { readonly read: FileToRead; readonly sha256: string; readonly into: FileToRead[] }[] = []
  const sort = (file: TreeFile, into: FileToRead[]): void => {
    const folder = folders[file.folder]
    if (folder === undefined) return
    const look = lookOf(folder, file.file)
    const path = scan.pathOf(look.path)
    const known = scan.known.unchanged(look)
    if (known?.sha256) {
      hashes.set(file, known.sha256)
      scan.out.problems.push(...scan.former.ofFile(path))
      return
    }
    if (into === sounds && look.sizeBytes > LARGEST_SOUND_BYTES) {
      scan.progress.skip(1)
      scan.out.fault(path, 'scan/sound-too-large', SOUND_TOO_LARGE)
      return
    }
    if (into === companions && look.sizeBytes > LARGEST_COMPANION_BYTES) {
      scan.progress.skip(1)
      scan.out.note(path, 'scan/companion-too-large', COMPANION_TOO_LARGE)
      return
    }
    const read = { file, look, path }
    const was = scan.known.moved(look)
    // What it told of problems stands under its old name: then it is read again.
    const isPlain = was !== null && scan.former.ofFile(scan.pathOf(was.path)).length === 0
    const sha256 = isPlain ? was.sha256 : null
    if (sha256) moved.push({ read, sha256, into })
    else into.push(read)
  }
  for (const edition of editions) {
    for (const file of edition.sounds) sort(file, sounds)
    for (const file of edition.companions) sort(file, companions)
  }
  // Under its old name it may have been no sound: then it was never inspected.
  const inspected = new Set(await scan.library.knownInspections(moved.map(({ sha256 }) => sha256)))
  for (const { read, sha256, into } of moved) {
    if (into === companions || inspected.has(sha256)) hashes.set(read.file, sha256)
    else into.push(read)
  }
  return { sounds, companions }
}

async function readSounds(scan: RootScan, sounds: readonly FileToRead[], hashes: Hashes): Promise<void> {
  await scan.inspector.inspectFiles(
    sounds.map(({ path, look }) => ({ path, sizeBytes: look.sizeBytes })),
    (index, inspected) => {
      const read = sounds[index]
      if (read !== undefined) hashes.set(read.file, takeInspected(scan, read.path, inspected))
    },
    scan.progress.control.cancel,
  )
  await scan.keeper.settle()
}

async function readCompanions(
  scan: RootScan,
  companions: readonly FileToRead[],
  hashes: Hashes,
): Promise<void> {
  await scan.files.hashFiles(
    companions.map(({ path, look }) => ({ path, sizeBytes: look.sizeBytes })),
    (index, { sha256, sizeBytes, looksLike, problem }) => {
      const read = companions[index]
      if (read === undefined) return
      scan.progress.read(read.path)
      hashes.set(read.file, sha256)
      if (problem !== null) scan.out.fault(read.path, problem.code, problem.message)
      if (looksLike === 'wav') scan.out.note(read.path, 'scan/sound-by-content', SOUND_BY_CONTENT)
      if (looksLike === 'archive') scan.out.note(read.path, 'scan/archive-by-content', ARCHIVE_BY_CONTENT)
      if (sha256 === null) return
      scan.out.filesRead += 1
      scan.out.bytesRead += sizeBytes
    },
    scan.progress.control.cancel,
  )
}

function record(
  scan: RootScan,
  folders: readonly WalkedFolder[],
  edition: FoundEdition,
  hashes: Hashes,
): void {
  for (const file of [...edition.sounds, ...edition.companions]) {
    const folder = folders[file.folder]
    const sha256 = hashes.get(file)
    if (folder !== undefined && sha256 !== undefined) {
      scan.out.files.addWalked(folder, file.file, sha256)
    }
  }
  const hashOf: HashOf = (file) => {
    const sha256 = hashes.get(file) ?? null
    return sha256 === null ? null : { sha256, sizeBytes: folders[file.folder]?.sizesBytes[file.file] ?? 0 }
  }
  const labels = [scan.rootLabel, ...(edition.path === '' ? [] : edition.path.split('/'))]
  const place = { path: scan.pathOf(edition.path), innerPath: null }
  const scanned = scannedEdition(edition, place, nameEdition(labels, scan.aboveLabel), hashOf, scan.roles)
  if (scanned !== null) scan.out.editions.push(scanned)
}
