import type { ScanProblem, ScanRoot } from '../../model/library.ts'
import type { LibraryFiles, LookedAt, WalkedTree } from '../../ports/library-files.ts'
import type { ScanApplied, ScanOutcome } from '../../ports/library-records.ts'
import type { RunControl } from '../../ports/progress.ts'
import { FormerProblems, Gathered } from './gathered.ts'
import { gatherArchives } from './gather-archives.ts'
import { gatherFolders } from './gather-folders.ts'
import { InspectionKeeper } from './inspection-keeper.ts'
import { KnownFiles } from './known-files.ts'
import { matchEditions } from './match-editions.ts'
import type { RootScan } from './root-scan.ts'
import type { ScanPorts } from './scan-ports.ts'
import { ScanProgress } from './scan-progress.ts'
import { recordedDigest, walkedDigest } from './tree-digest.ts'

/** What the scan of one root came to. */
export interface RootReport extends ScanApplied {
  readonly path: string
  readonly editions: number
  readonly sounds: number
  readonly filesRead: number
  readonly bytesRead: number
  readonly problems: readonly ScanProblem[]
}

/**
 * Scans one root: looks at its tree, reads what has changed, and records all of it in one short
 * transaction at the end. Cancelled or failed, it has left the library as it was.
 *
 * @param passwords by the archive's absolute path; used for this scan only
 * @throws AppError `lock/held` where another scan of this root runs; Cancelled
 */
export async function scanRoot(
  ports: ScanPorts,
  files: LibraryFiles,
  root: LookedAt,
  passwords: ReadonlyMap<string, string>,
  control: RunControl,
): Promise<RootReport> {
  const lock = await ports.locks.acquire(`scan ${root.path}`, `scanning ${root.path}`)
  try {
    const known = await ports.database.library.findRootByPath(root.path)
    const last = known && (await ports.database.library.findLastScan(known.id))
    const progress = new ScanProgress(control)
    const knownDigest = passwords.size > 0 ? null : walkedDigest(last?.treeDigest ?? null, ports.roles)
    const tree = await files.walk(root, knownDigest, (seen) => progress.seen(seen, root.path), control.cancel)
    if (known !== undefined && last !== undefined && tree.folders === null) {
      return await unchangedReport(ports, known, last)
    }
    const scan = await rootScan(ports, files, root, known, passwords, progress)
    await gather(scan, tree)
    progress.recording(scan.out.files.length, root.path)
    progress.check()
    const applied = await apply(ports, scan, recordedDigest(tree.digest, ports.roles))
    return {
      path: root.path,
      editions: scan.out.editions.length,
      sounds: scan.out.editions.reduce((sum, edition) => sum + edition.sounds.length, 0),
      ...applied,
      filesRead: scan.out.filesRead,
      bytesRead: scan.out.bytesRead,
      problems: scan.out.problems,
    }
  } finally {
    await lock.release()
  }
}

async function unchangedReport(
  ports: ScanPorts,
  root: ScanRoot,
  last: { readonly editionCount: number; readonly soundCount: number },
): Promise<RootReport> {
  const all = await ports.database.library.listScanProblems()
  await ports.database.inTransaction(({ library }) => library.noteUnchangedScan(root.id, ports.clock.now()))
  return {
    path: root.path,
    editions: last.editionCount,
    sounds: last.soundCount,
    added: 0,
    changed: 0,
    unchanged: last.editionCount,
    relinked: 0,
    gone: 0,
    filesRead: 0,
    bytesRead: 0,
    problems: all.flatMap(({ rootId, ...problem }) => (rootId === root.id ? [problem] : [])),
  }
}

async function rootScan(
  { database, inspector, peaks, roles }: ScanPorts,
  files: LibraryFiles,
  root: LookedAt,
  known: ScanRoot | undefined,
  passwords: ReadonlyMap<string, string>,
  progress: ScanProgress,
): Promise<RootScan> {
  const problems = await database.library.listScanProblems()
  const [rootLabel = root.path, aboveLabel = null] = root.path.split(/[\\/]/).filter(Boolean).reverse()
  return {
    root,
    rootLabel,
    aboveLabel,
    files,
    // An archive named by itself is all there is in its root.
    pathOf: (below) => (root.kind === 'archive' ? root.path : files.resolve(root.path, below)),
    inspector,
    library: database.library,
    roles: await roles.open(),
    known: new KnownFiles(known === undefined ? [] : await database.library.listKnownFiles(known.id)),
    former: new FormerProblems(problems.filter(({ rootId }) => rootId === known?.id)),
    keeper: new InspectionKeeper(database, peaks),
    progress,
    passwords,
    out: new Gathered(),
  }
}

async function gather(scan: RootScan, { folders, problems }: WalkedTree): Promise<void> {
  scan.out.problems.push(...problems)
  if (scan.root.kind === 'folder') await gatherFolders(scan, folders ?? [])
  await gatherArchives(scan, folders ?? [])
  await scan.keeper.finish()
}

async function apply(ports: ScanPorts, scan: RootScan, digest: string): Promise<ScanApplied> {
  const { out, root } = scan
  const seen = out.editions.map(({ place, sounds }) => ({
    ...place,
    soundHashes: sounds.map(({ sha256 }) => sha256),
  }))
  const ids = matchEditions(seen, await ports.database.library.listEditionIdentities())
  const at = ports.clock.now()
  const outcome: Omit<ScanOutcome, 'rootId'> = {
    at,
    newInspections: [],
    newPeaks: [],
    files: out.files,
    editions: out.editions.map((edition, index) => ({ ...edition, editionId: ids[index] ?? null })),
    problems: out.problems,
    treeDigest: out.mustRetry ? null : digest,
  }
  return ports.database.inTransaction(async ({ library }) => {
    const { id } = await library.addRoot({ path: root.path, kind: root.kind, addedAt: at })
    return library.applyScan({ rootId: id, ...outcome })
  })
}
