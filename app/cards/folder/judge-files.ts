import type { TargetListing } from '../../model/target.ts'
import type { FileToWrite, TargetFolder } from '../../ports/target-folder.ts'
import { nameKey } from '../card-name.ts'

/** How what lies on a target stands to what is to be there. */
export interface JudgedFiles {
  /** Planned paths whose bytes are right already. */
  readonly right: ReadonlySet<string>
  /** Files that are not right and of which a record tells path and bytes: they can be made again. */
  readonly recorded: readonly string[]
  /** What matches neither the plan nor a record: files, links and empty folders. */
  readonly strangers: readonly string[]
}

export interface JudgedAgainst {
  readonly planned: readonly FileToWrite[]
  /** Files of contents on record; enough are those of which the target has the name. */
  readonly known: readonly FileToWrite[]
}

/** Bytes that judging a listing will read. */
export function bytesToJudge(listing: TargetListing, against: JudgedAgainst): number {
  const candidates = candidatesOf(against)
  return listing.files
    .filter((file) => isCandidate(file, candidates))
    .reduce((sum, { sizeBytes }) => sum + sizeBytes, 0)
}

/**
 * Tells what is right, what is on record and what is neither. Only files whose path and size are
 * known from somewhere are read; names are the same where a card could not hold both.
 */
export function judgeFiles(
  listing: TargetListing,
  against: JudgedAgainst,
  target: Pick<TargetFolder, 'hashFile'>,
  onBytes: (bytes: number, path: string) => void,
): JudgedFiles {
  const candidates = candidatesOf(against)
  const planned = new Map(against.planned.map((file) => [file.path, file]))
  const right = new Set<string>()
  const recorded: string[] = []
  const strangers: string[] = [...listing.others]
  for (const file of listing.files) {
    if (!isCandidate(file, candidates)) {
      strangers.push(file.path)
      continue
    }
    const sha256 = target.hashFile(file.path, (bytes) => onBytes(bytes, file.path))
    if (planned.get(file.path)?.sha256 === sha256) right.add(file.path)
    else if (candidates.get(nameKey(file.path))?.some((one) => one.sha256 === sha256) === true)
      recorded.push(file.path)
    else strangers.push(file.path)
  }
  const isKnownFolder = folderKeysOf([...against.planned, ...against.known])
  strangers.push(...listing.emptyFolders.filter((path) => !isKnownFolder.has(nameKey(path))))
  return { right, recorded, strangers }
}

type Candidates = ReadonlyMap<string, readonly FileToWrite[]>

function candidatesOf({ planned, known }: JudgedAgainst): Candidates {
  const candidates = new Map<string, FileToWrite[]>()
  for (const file of [...planned, ...known]) {
    const key = nameKey(file.path)
    candidates.set(key, [...(candidates.get(key) ?? []), file])
  }
  return candidates
}

function isCandidate(file: { path: string; sizeBytes: number }, candidates: Candidates): boolean {
  const known = candidates.get(nameKey(file.path))
  return known?.some(({ sizeBytes }) => sizeBytes === file.sizeBytes) === true
}

/** Every folder that files lie in, as `nameKey`. */
function folderKeysOf(files: readonly { readonly path: string }[]): ReadonlySet<string> {
  const keys = new Set<string>()
  for (const { path } of files) {
    for (let at = path.indexOf('/'); at !== -1; at = path.indexOf('/', at + 1))
      keys.add(nameKey(path.slice(0, at)))
  }
  return keys
}
