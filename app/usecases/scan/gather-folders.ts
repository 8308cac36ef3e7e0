import type { WalkedFolder } from '../../ports/library-files.ts'
import type { InspectedSound } from '../../ports/sound-inspector.ts'
import { findEditions, type FoundEdition, type TreeFile } from './find-editions.ts'
import { nameEdition } from './font-name.ts'
import type { FileLook } from './known-files.ts'
import { COMPANION_TOO_LARGE, LARGEST_COMPANION_BYTES, SOUND_BY_CONTENT, type RootScan } from './root-scan.ts'
import { scannedEdition, type HashOf } from './scanned-edition.ts'

/** Sounds handed to the inspector at once: enough to share out well, few enough to hold. */
const INSPECTED_AT_ONCE = 4096

interface FileToRead {
  readonly file: TreeFile
  readonly look: FileLook
  readonly path: string
}

/** Hashes of a tree's files by folder and file; null where a file could not be read. */
type Hashes = ReadonlyMap<number, Map<number, string | null>>

/** Finds the editions that lie in plain folders, and reads what has changed of them. */
export async function gatherFolders(scan: RootScan, folders: readonly WalkedFolder[]): Promise<void> {
  const editions = findEditions(folders, scan.roles)
  const hashes: Hashes = new Map(folders.map((_, index) => [index, new Map<number, string | null>()]))
  const { sounds, companions } = await sortOut(scan, folders, editions, hashes)
  scan.progress.expect(sounds.length + companions.length)
  await readSounds(scan, sounds, hashes)
  await readCompanions(scan, companions, hashes)
  for (const edition of editions) record(scan, folders, edition, hashes)
}

export function lookOf(folder: WalkedFolder, file: number): FileLook {
  const name = folder.names[file] ?? ''
  return {
    path: folder.path === '' ? name : `${folder.path}/${name}`,
    sizeBytes: folder.sizesBytes[file] ?? 0,
    modifiedNs: String(folder.modifiedNs[file] ?? 0n),
    fileKey: String(folder.fileKeys[file] ?? 0n),
  }
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
      hashes.get(file.folder)?.set(file.file, known.sha256)
      scan.out.problems.push(...scan.former.ofFile(path))
      return
    }
    if (into === companions && look.sizeBytes > LARGEST_COMPANION_BYTES) {
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
    if (into === companions || inspected.has(sha256))
      hashes.get(read.file.folder)?.set(read.file.file, sha256)
    else into.push(read)
  }
  return { sounds, companions }
}

async function readSounds(scan: RootScan, sounds: readonly FileToRead[], hashes: Hashes): Promise<void> {
  for (let from = 0; from < sounds.length; from += INSPECTED_AT_ONCE) {
    const part = sounds.slice(from, from + INSPECTED_AT_ONCE)
    await scan.inspector.inspectFiles(
      part.map(({ path, look }) => ({ path, sizeBytes: look.sizeBytes })),
      (index, inspected) => {
        const read = part[index]
        if (read === undefined) return
        const sha256 = takeInspected(scan, read.path, inspected)
        hashes.get(read.file.folder)?.set(read.file.file, sha256)
      },
      scan.progress.control.cancel,
    )
    await scan.keeper.settle()
  }
}

/** @returns the hash; null where the file could not be read, which is told */
export function takeInspected(scan: RootScan, path: string, inspected: InspectedSound): string | null {
  const { sha256, sizeBytes } = inspected.inspection
  scan.progress.read(path)
  const problem = problemOf(inspected)
  if (problem !== null) scan.out.fault(path, problem.code, problem.message)
  if (sha256 === '') return null
  scan.out.filesRead += 1
  scan.out.bytesRead += sizeBytes
  scan.keeper.add(inspected)
  return sha256
}

/** A file that reads well as a file and has no sound in it has not been read either. */
function problemOf({ inspection: { problem, facts } }: InspectedSound) {
  if (problem !== null || facts === null || (facts.frames ?? 0) > 0) return problem
  const why = facts.defects.find(({ code }) => code === 'no-fmt' || code === 'no-data')
  const message = `No sound can be read from it. ${why?.message ?? 'It has no samples.'}`
  return { code: 'sound/no-samples', message }
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
      hashes.get(read.file.folder)?.set(read.file.file, sha256)
      if (problem !== null) scan.out.fault(read.path, problem.code, problem.message)
      if (looksLike === 'wav') scan.out.note(read.path, 'scan/sound-by-content', SOUND_BY_CONTENT)
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
    const sha256 = hashes.get(file.folder)?.get(file.file)
    if (folder !== undefined && sha256 !== undefined) {
      scan.out.files.push({ ...lookOf(folder, file.file), sha256 })
    }
  }
  const hashOf: HashOf = ({ folder, file }) => {
    const sha256 = hashes.get(folder)?.get(file) ?? null
    return sha256 === null ? null : { sha256, sizeBytes: folders[folder]?.sizesBytes[file] ?? 0 }
  }
  const labels = [scan.rootLabel, ...(edition.path === '' ? [] : edition.path.split('/'))]
  const place = { path: scan.pathOf(edition.path), innerPath: null }
  const scanned = scannedEdition(edition, place, nameEdition(labels, scan.aboveLabel), hashOf, scan.roles)
  if (scanned !== null) scan.out.editions.push(scanned)
}
