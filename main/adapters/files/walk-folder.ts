import { createHash, type Hash } from 'node:crypto'
import { lstatSync, readdirSync, type Dirent } from 'node:fs'
import { join, sep } from 'node:path'
import type { ScanProblem } from '../../../app/model/library.ts'
import type { WalkedFolder, WalkedTree } from '../../../app/ports/library-files.ts'
import { isLitterFolder } from '../../../app/usecases/scan/file-kinds.ts'
import { kindInWords, walkProblem } from './walk-problems.ts'

/**
 * Folders below one another. People stack a handful; a tree this deep is a fault or a trap, and each
 * level costs the length of a path.
 */
export const DEEPEST_FOLDERS = 128
/** Files between two reports of progress. */
const REPORT_EVERY = 2_000

/**
 * Looks at every file below a folder without opening any, in one go: for a worker, since it does not
 * yield. (Asking file by file asynchronously takes five times as long.) Links are not followed and
 * special files not touched; what is left out is told.
 *
 * @param root absolute; a folder that is known to be there
 * @throws what Node throws where the root itself cannot be listed
 */
export function walkFolder(
  root: string,
  knownDigest: string | null,
  onFiles: (seen: number) => void,
): WalkedTree {
  const folders: WalkedFolder[] = []
  const problems: ScanProblem[] = []
  const digest = createHash('sha256')
  const open: { readonly path: string; readonly depth: number }[] = [{ path: '', depth: 0 }]
  let seen = 0
  let reported = 0
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const { path, depth } = next
    const listed = listFolder(root, path, problems)
    if (listed === null) continue
    // Backwards onto the stack, so that they come off it in order.
    for (const name of listed.folderNames.toReversed()) {
      const below = path === '' ? name : `${path}/${name}`
      if (depth < DEEPEST_FOLDERS) open.push({ path: below, depth: depth + 1 })
      else problems.push(walkProblem('walk/too-deep', absolute(root, below)))
    }
    const { folder } = listed
    folders.push(folder)
    addToDigest(digest, folder)
    seen += folder.names.length
    if (seen - reported >= REPORT_EVERY) onFiles((reported = seen))
  }
  onFiles(seen)
  for (const { path, code } of problems) digest.update(`${code}\0${path}\n`)
  const hex = digest.digest('hex')
  return { digest: hex, folders: hex === knownDigest ? null : folders, problems }
}

interface Listed {
  readonly folder: WalkedFolder
  readonly folderNames: readonly string[]
}

function listFolder(root: string, path: string, problems: ScanProblem[]): Listed | null {
  const place = absolute(root, path)
  let dirents: readonly Dirent[]
  try {
    dirents = readdirSync(place, { withFileTypes: true })
  } catch (error) {
    if (path === '') throw error
    problems.push(walkProblem('walk/unreadable-folder', place, error))
    return null
  }
  const wellNamed = dirents.some(({ name }) => name.includes('\uFFFD'))
    ? withoutOddNames(dirents, place, problems)
    : dirents
  const sorted = wellNamed.toSorted((a, b) => (a.name < b.name ? -1 : 1))
  const folderNames: string[] = []
  const litterFolders: string[] = []
  const files: { readonly name: string; readonly facts: FileFacts }[] = []
  for (const dirent of sorted) {
    const { name } = dirent
    const below = place.endsWith(sep) ? place + name : place + sep + name
    const kind = kindOf(dirent, below)
    if (kind === 'folder') (isLitterFolder(name) ? litterFolders : folderNames).push(name)
    else if (kind === 'file') {
      const facts = factsOf(below, problems)
      if (facts !== null) files.push({ name, facts })
    } else if (kind === 'link') problems.push(walkProblem('walk/link', below))
    else problems.push(walkProblem('walk/special', below, null, kind))
  }
  return { folder: inColumns(path, files, litterFolders), folderNames }
}

function inColumns(
  path: string,
  files: readonly { readonly name: string; readonly facts: FileFacts }[],
  litterFolders: readonly string[],
): WalkedFolder {
  const sizesBytes = new Float64Array(files.length)
  const modifiedNs = new BigInt64Array(files.length)
  const fileKeys = new BigUint64Array(files.length)
  for (const [at, { facts }] of files.entries()) {
    sizesBytes[at] = Number(facts.size)
    modifiedNs[at] = facts.mtimeNs
    fileKeys[at] = facts.ino
  }
  return { path, names: files.map(({ name }) => name), sizesBytes, modifiedNs, fileKeys, litterFolders }
}

interface FileFacts {
  readonly size: bigint
  readonly mtimeNs: bigint
  /** Without the device, whose number changes from mount to mount. */
  readonly ino: bigint
}

function factsOf(path: string, problems: ScanProblem[]): FileFacts | null {
  try {
    return lstatSync(path, { bigint: true })
  } catch (error) {
    problems.push(walkProblem('walk/unreadable-file', path, error))
    return null
  }
}

/** Some file systems do not tell kinds in a listing: those files are asked one by one. */
function kindOf(dirent: Dirent, path: string): 'file' | 'folder' | 'link' | string {
  if (dirent.isFile()) return 'file'
  if (dirent.isDirectory()) return 'folder'
  if (dirent.isSymbolicLink()) return 'link'
  const told = kindInWords(dirent)
  if (told !== null) return told
  try {
    const facts = lstatSync(path)
    if (facts.isFile()) return 'file'
    if (facts.isDirectory()) return 'folder'
    return facts.isSymbolicLink() ? 'link' : (kindInWords(facts) ?? 'a special file')
  } catch {
    return 'a special file'
  }
}

/**
 * Node puts U+FFFD where a name's bytes are no UTF-8, and such a name opens nothing. Names are text
 * from here on, in the workshop, in documents, on cards: so the file is told and left out.
 */
function withoutOddNames(
  dirents: readonly Dirent[],
  place: string,
  problems: ScanProblem[],
): readonly Dirent[] {
  const raw = readdirSync(place, { encoding: 'buffer' })
  const odd = raw.filter((bytes) => !Buffer.from(bytes.toString('utf8'), 'utf8').equals(bytes))
  const misread = new Set(odd.map((bytes) => bytes.toString('utf8')))
  for (const bytes of odd) {
    problems.push(walkProblem('walk/name-not-utf8', join(place, withPercents(bytes))))
  }
  const real = new Set(raw.filter((bytes) => !odd.includes(bytes)).map((bytes) => bytes.toString('utf8')))
  return dirents.filter(({ name }) => !misread.has(name) || real.has(name))
}

/** Bytes that are no UTF-8 as `%xx`, the rest as they are. */
function withPercents(bytes: Buffer): string {
  let shown = ''
  for (let at = 0; at < bytes.length;) {
    const length = [1, 2, 3, 4].find((each) => isOneCharacter(bytes.subarray(at, at + each)))
    shown +=
      length === undefined
        ? `%${(bytes[at] ?? 0).toString(16).padStart(2, '0')}`
        : bytes.toString('utf8', at, at + length)
    at += length ?? 1
  }
  return shown
}

function isOneCharacter(bytes: Buffer): boolean {
  const text = bytes.toString('utf8')
  return [...text].length === 1 && Buffer.from(text, 'utf8').equals(bytes)
}

function addToDigest(
  digest: Hash,
  { path, names, sizesBytes, modifiedNs, fileKeys, litterFolders }: WalkedFolder,
) {
  digest.update(`${path}\0${names.join('\0')}\0\0${litterFolders.join('\0')}\n`)
  digest.update(sizesBytes).update(modifiedNs).update(fileKeys)
}

function absolute(root: string, below: string): string {
  return below === '' ? root : join(root, below)
}
