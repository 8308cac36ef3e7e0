import type { ArchiveEntry } from '../../ports/library-files.ts'

/** Why an entry is not taken. */
export interface Refusal {
  readonly index: number
  readonly code: string
  readonly message: string
}

export interface VettedEntry {
  readonly index: number
  /** Canonical: parts joined by `/`, none of them empty, `.` or `..`. */
  readonly path: string
  readonly sizeBytes: number
  readonly isEncrypted: boolean
}

export interface VettedEntries {
  readonly files: readonly VettedEntry[]
  readonly refused: readonly Refusal[]
  /** How many names were read as code page 437, and one of them. */
  readonly oldNames: { readonly count: number; readonly example: string } | null
}

/** The longest name of a long directory entry, and what other file systems hold at most. */
const LONGEST_PART_UNITS = 255
const LONGEST_PATH_UNITS = 1024

/**
 * Judges the entries of an archive by their names and kinds before any is unpacked. Nothing is
 * written to the disk, so that no name could climb out; but an archive that tries is not to be
 * trusted with that entry, and names that cannot be told apart cannot be chosen between.
 */
export function vetEntries(entries: readonly ArchiveEntry[]): VettedEntries {
  const refused: Refusal[] = []
  const refuse = ({ index }: { readonly index: number }, [code, message]: readonly [string, string]) => {
    refused.push({ index, code, message })
  }
  const named: (VettedEntry & { readonly isLink: boolean })[] = []
  const folders: string[] = []
  let oldCount = 0
  let oldExample = ''
  for (const entry of entries) {
    const name = entry.name?.replaceAll('\\', '/') ?? null
    const fault =
      name === null ? NOT_TEXT : faultOfName(entry.kind === 'folder' ? name.replace(/\/$/, '') : name)
    if (name === null || fault !== null) {
      refuse(entry, fault ?? NOT_TEXT)
      continue
    }
    if (entry.encoding === 'cp437') {
      oldCount += 1
      oldExample ||= name
    }
    if (entry.kind === 'folder') folders.push(name.replace(/\/$/, ''))
    else if (entry.kind === 'other') refuse(entry, NO_FILE)
    else named.push({ ...pick(entry, name), isLink: entry.kind === 'link' })
  }
  const clashes = clashesOf(named, folders)
  const files = named.filter((entry) => {
    const fault = entry.isLink ? LINK : clashes(entry.path)
    if (fault !== null) refuse(entry, fault)
    return fault === null
  })
  refused.sort((a, b) => a.index - b.index)
  return {
    files: files.map(({ isLink: _, ...entry }) => entry),
    refused,
    oldNames: oldCount === 0 ? null : { count: oldCount, example: oldExample },
  }
}

function pick(entry: ArchiveEntry, path: string): VettedEntry {
  return { index: entry.index, path, sizeBytes: entry.sizeBytes, isEncrypted: entry.isEncrypted }
}

type Fault = readonly [code: string, message: string]
const NOT_TEXT: Fault = [
  'archive/name-not-text',
  'Its name is no text in the encoding that the archive says; it was left out.',
]
const LINK: Fault = ['archive/link', 'It is a symbolic link, not a file; it was left out.']
const NO_FILE: Fault = ['archive/no-file', 'It is a device or a pipe, not a file; it was left out.']
const TWICE: Fault = [
  'archive/name-twice',
  'The archive holds several files of this name (upper and lower case and composed letters taken alike), and nothing tells which is meant; none was taken. Ask its maker for a sound archive.',
]
const FILE_AND_FOLDER: Fault = [
  'archive/file-and-folder',
  'The archive has a file or link where a folder of the same name is; both were left out. Ask its maker for a sound archive.',
]

function faultOfName(name: string): Fault | null {
  if (name === '') return ['archive/name-empty', 'It has no name; it was left out.']
  if (/[\u0000-\u001f\u007f]/.test(name)) {
    return ['archive/name-control', 'Its name holds control characters; it was left out.']
  }
  const parts = name.split('/')
  if (name.startsWith('/') || /^[A-Za-z]:/.test(name)) {
    return [
      'archive/name-absolute',
      'Its name points to a fixed place on a disk; it was left out. Do not trust this archive.',
    ]
  }
  if (parts.includes('..')) {
    return [
      'archive/name-climbs',
      'Its name climbs out of the archive; it was left out. Do not trust this archive.',
    ]
  }
  if (parts.some((part) => part === '' || part === '.')) {
    return ['archive/name-odd', 'Its name has an empty or dot-only part; it was left out.']
  }
  if (name.length > LONGEST_PATH_UNITS || parts.some((part) => part.length > LONGEST_PART_UNITS)) {
    return ['archive/name-long', `Its name is too long (${name.length} characters); it was left out.`]
  }
  return null
}

/** Tells of a path whether another entry claims the same name, or a folder stands where a file does. */
function clashesOf(
  files: readonly { readonly path: string }[],
  folders: readonly string[],
): (path: string) => Fault | null {
  const fileCounts = new Map<string, number>()
  for (const { path } of files) fileCounts.set(folded(path), (fileCounts.get(folded(path)) ?? 0) + 1)
  const isFolder = new Set<string>(folders.map(folded))
  for (const { path } of files) for (const parent of parentsOf(folded(path))) isFolder.add(parent)
  return (path) => {
    const key = folded(path)
    if ((fileCounts.get(key) ?? 0) > 1) return TWICE
    return isFolder.has(key) || parentsOf(key).some((parent) => fileCounts.has(parent))
      ? FILE_AND_FOLDER
      : null
  }
}

function parentsOf(path: string): string[] {
  const parts = path.split('/')
  return parts.slice(1).map((_, index) => parts.slice(0, index + 1).join('/'))
}

/** Names that a card, or a disk that folds case, takes for one. Source: UAX #15 for the normal form. */
function folded(path: string): string {
  return path.normalize('NFC').toLowerCase().normalize('NFC')
}
