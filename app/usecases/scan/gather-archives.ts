import { AppError } from '../../errors/app-error.ts'
import type { WalkedFolder } from '../../ports/library-files.ts'
import { archiveEditions } from './archive-editions.ts'
import { RETRY_CODES } from './entry-reading.ts'
import { extensionOf, kindOfFile, OTHER_ARCHIVES } from './file-kinds.ts'
import { lookOf } from './file-rows.ts'
import { INTO_ARCHIVE, type FileLook } from './known-files.ts'
import { readArchive, type ReadArchive } from './read-archive.ts'
import type { RootScan } from './root-scan.ts'

/** An archive file of the tree. */
interface ArchiveFile {
  readonly look: FileLook
  /** Absolute. */
  readonly path: string
  readonly name: string
  /** Labels of the folders it lies in, from the root's. */
  readonly outside: readonly string[]
}

/** Finds the editions in a tree's archives, and reads those archives that have changed. */
export async function gatherArchives(scan: RootScan, folders: readonly WalkedFolder[]): Promise<void> {
  const folderPaths = new Set(folders.map(({ path }) => path))
  for (const folder of folders) {
    for (const [file, name] of folder.names.entries()) {
      const kind = kindOfFile(name)
      if (kind !== 'zip' && kind !== 'other-archive') continue
      scan.progress.check()
      const look = lookOf(folder, file)
      const path = scan.pathOf(look.path)
      if (folderPaths.has(`${look.path}!`)) {
        scan.out.fault(
          path,
          'archive/beside-folder',
          `A folder beside it is called ${name}!, and paths into the two could not be told apart; rename the folder.`,
        )
        continue
      }
      const outside =
        scan.root.kind === 'archive'
          ? []
          : [scan.rootLabel, ...(folder.path === '' ? [] : folder.path.split('/'))]
      await gatherArchive(scan, { look, path, name, outside })
    }
  }
}

async function gatherArchive(scan: RootScan, archive: ArchiveFile): Promise<void> {
  const known = scan.passwords.has(archive.path) ? null : scan.known.unchanged(archive.look)
  const read = known === null ? await readAnew(scan, archive) : carried(scan, archive)
  const mustRetry = read === 'retry' || (read !== 'nothing' && read.mustRetry)
  scan.out.files.add({ ...archive.look, sha256: mustRetry ? null : '' })
  if (read === 'retry' || read === 'nothing') return
  recordArchive(scan, read, {
    knownPath: archive.look.path,
    path: archive.path,
    inner: '',
    label: withoutExtension(archive.name),
    outside: archive.outside,
  })
}

async function readAnew(scan: RootScan, archive: ArchiveFile): Promise<ReadArchive | 'retry' | 'nothing'> {
  const password = scan.passwords.get(archive.path) ?? null
  let open
  try {
    open = await scan.files.openArchive(archive.path, password, scan.progress.control.cancel)
  } catch (error) {
    return toldFailure(scan, archive, error)
  }
  try {
    return await readArchive(scan, open, archive.path)
  } finally {
    await open.close()
  }
}

/** @throws what is no fault of the archive */
function toldFailure(scan: RootScan, { path, name }: ArchiveFile, error: unknown): 'retry' | 'nothing' {
  if (!(error instanceof AppError) || !error.code.startsWith('archive/')) throw error
  const otherKind = OTHER_ARCHIVES.get(extensionOf(name))
  if (otherKind !== undefined && error.code !== 'archive/kind' && !RETRY_CODES.has(error.code)) {
    scan.out.note(
      path,
      'archive/kind-by-name',
      `By its name it is a ${otherKind} file, which Cardwright does not open; if fonts are in it, unpack it and scan the folder.`,
    )
    return 'nothing'
  }
  scan.out.fault(path, error.code, `${error.what} ${error.mend}`)
  return RETRY_CODES.has(error.code) ? 'retry' : 'nothing'
}

/** What the last scan found in an archive that has not changed. */
function carried(scan: RootScan, archive: ArchiveFile): ReadArchive {
  scan.out.problems.push(...scan.former.ofArchive(archive.path))
  return carriedAt(scan, archive.look.path)
}

function carriedAt(scan: RootScan, knownPath: string): ReadArchive {
  const entries = scan.known.entriesOf(knownPath)
  return {
    entries,
    inner: entries
      .filter(({ path }) => isArchive(path))
      .map(({ path }) => ({ path, read: carriedAt(scan, knownPath + INTO_ARCHIVE + path) })),
    mustRetry: false,
  }
}

interface ArchivePlace {
  /** Below the root, as its entries are recorded. */
  readonly knownPath: string
  /** Absolute path of the outermost archive. */
  readonly path: string
  /** From there to this archive, empty for the outermost itself. */
  readonly inner: string
  readonly label: string
  readonly outside: readonly string[]
}

function recordArchive(scan: RootScan, read: ReadArchive, place: ArchivePlace): void {
  for (const { path, sizeBytes, sha256 } of read.entries) {
    scan.out.files.add({
      path: place.knownPath + INTO_ARCHIVE + path,
      sizeBytes,
      modifiedNs: '0',
      fileKey: '',
      sha256,
    })
  }
  scan.out.editions.push(...archiveEditions(scan, read.entries, place))
  for (const { path, read: inner } of read.inner) {
    const slash = path.lastIndexOf('/')
    const folders = slash < 0 ? [] : path.slice(0, slash).split('/')
    recordArchive(scan, inner, {
      knownPath: place.knownPath + INTO_ARCHIVE + path,
      path: place.path,
      inner: `${place.inner === '' ? '' : `${place.inner}/`}${path}!`,
      label: withoutExtension(path.slice(slash + 1)),
      outside: [...place.outside, place.label, ...folders],
    })
  }
}

function isArchive(path: string): boolean {
  const kind = kindOfFile(path.slice(path.lastIndexOf('/') + 1))
  return kind === 'zip' || kind === 'other-archive'
}

function withoutExtension(name: string): string {
  const dot = name.lastIndexOf('.')
  return dot > 0 ? name.slice(0, dot) : name
}
