import { createHash } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { v7 } from 'uuid'
import type { ScanOutcome } from '../../app/ports/library-records.ts'
import { openWorkshopDatabase } from '../../main/adapters/db/open-workshop-database.ts'
import { scannedEdition, scanOutcome } from '../support/library-rows.ts'
import { pairedMedians, type Bench, type BenchContext, type BenchResult } from './bench-kit.ts'

const ROWS = 50_000
const PEER = 'better-sqlite3 in this thread: one prepared INSERT, run for each row, in one transaction'
const options = { who: 'bench', clock: { now: () => '2026-11-25T09:00:00Z' }, newId: () => v7() }

/** A scan's list of files, from the use case's thread into the database, against the bare statement. */
export const fileRowsAgainstRaw: Bench = {
  id: 'P10a',
  title: '50,000 files of a scan into the workshop, against a raw prepared statement',
  run: (context) =>
    against(context, {
      outcomeOf: (rootId, rows) => ({
        ...scanOutcome(rootId, [], []),
        files: Array.from({ length: rows }, (_, n) => ({
          path: `font ${Math.floor(n / 100)}/sound-${n % 100}.wav`,
          sizeBytes: 40_000 + n,
          modifiedNs: `17640612${String(n).padStart(11, '0')}`,
          fileKey: String(800_000 + n),
          sha256: hashOf(n),
        })),
      }),
      parents: (peer, { rootId }) =>
        peer
          .prepare("INSERT INTO root (id, path, kind, added_at) VALUES (?, ?, 'folder', '')")
          .run(rootId, rootId),
      insert:
        'INSERT INTO known_file (root_id, path, size_bytes, modified_ns, file_key, sha256) VALUES (?, ?, ?, ?, ?, ?)',
      rowsOf: ({ rootId, files }) =>
        files
          .slice(0, files.length)
          .map((file) => [rootId, file.path, file.sizeBytes, file.modifiedNs, file.fileKey, file.sha256]),
    }),
}

/** A scan's sounds in editions of a hundred; the statement has them without editions, fonts and places. */
export const soundRowsAgainstRaw: Bench = {
  id: 'P10b',
  title: '50,000 sounds of 500 editions into the workshop, against a raw prepared statement',
  run: (context) =>
    against(context, {
      outcomeOf: (rootId, rows) => ({
        ...scanOutcome(
          rootId,
          Array.from({ length: rows / 100 }, (_, font) =>
            scannedEdition(
              `/fonts/${rootId}/font ${font}`,
              Array.from({ length: 100 }, (_, n) => [`sound-${n}.wav`, `${rootId} ${font} ${n}`] as const),
            ),
          ),
          [],
        ),
        files: [],
      }),
      parents: (peer, { editions }) => {
        peer.exec("INSERT OR IGNORE INTO font (id, name, name_key) VALUES ('a font', '', '')")
        peer.exec(`INSERT OR IGNORE INTO edition (id, font_id, version, state, sounds_hash, sound_count,
          companion_count, size_bytes, litter, first_seen_at)
          VALUES ('an edition', 'a font', '', 'present', '', 0, 0, 0, '[]', '')`)
        const inspection = peer.prepare('INSERT INTO inspection (sha256, size_bytes) VALUES (?, 40000)')
        for (const { sounds } of editions) for (const { sha256 } of sounds) inspection.run(sha256)
      },
      insert: `INSERT INTO sound (id, edition_id, path, sha256, role, part, layer, number, role_source)
               VALUES (?, 'an edition', ?, ?, 'hum', 'body', NULL, NULL, 'scheme')`,
      rowsOf: ({ rootId, editions }) =>
        editions.flatMap(({ place, sounds }) =>
          sounds.map(({ path, sha256 }) => [v7(), `${rootId}${place.path}/${path}`, sha256]),
        ),
    }),
}

interface Rows {
  /** What the peer's rows refer to, written before the clock runs. */
  readonly parents: (peer: Database.Database, outcome: ScanOutcome) => void
  readonly outcomeOf: (rootId: string, rows: number) => ScanOutcome
  readonly insert: string
  readonly rowsOf: (outcome: ScanOutcome) => readonly (readonly unknown[])[]
}

/** Both fill a workshop of their own, round after round, under a new root each time. */
async function against(
  context: BenchContext,
  { outcomeOf, parents, insert, rowsOf }: Rows,
): Promise<BenchResult> {
  const rows = Math.max(100, Math.round((ROWS * context.scale) / 100) * 100)
  const folder = mkdtempSync(join(context.dataFolder, 'rows-'))
  const ours = await openWorkshopDatabase(join(folder, 'ours'), options)
  await (await openWorkshopDatabase(join(folder, 'peer'), options)).close()
  const peer = new Database(join(folder, 'peer', 'cardwright.sqlite'))
  peer.pragma('synchronous = FULL')
  peer.pragma('foreign_keys = ON')
  const statement = peer.prepare(insert)
  const rounds = context.rounds + 1
  const outcomes: ScanOutcome[] = []
  for (let round = 0; round < rounds; round++) {
    const root = { path: `/fonts/${round}`, kind: 'folder', addedAt: '2026-11-25T08:00:00Z' } as const
    const { id } = await ours.inTransaction(({ library }) => library.addRoot(root))
    const outcome = outcomeOf(id, rows)
    const hashes = outcome.editions.flatMap(({ sounds }) => sounds.map(({ sha256 }) => sha256))
    await ours.inTransaction(({ library }) => library.keepInspections(hashes.map(bareInspection), []))
    outcomes.push(outcome)
  }
  peer.transaction(() => outcomes.forEach((outcome) => parents(peer, outcome)))()
  const forPeer = outcomes.map(rowsOf)
  let oursDone = 0
  let peerDone = 0
  try {
    const times = await pairedMedians(
      context.rounds,
      () => ours.inTransaction(({ library }) => library.applyScan(outcomes[oursDone++]!)),
      peer.transaction(() => {
        for (const row of forPeer[peerDone++] ?? []) statement.run(...row)
      }),
    )
    return { peer: PEER, ...times, kind: 'at most', hold: 2 }
  } finally {
    peer.close()
    await ours.close()
    rmSync(folder, { recursive: true, force: true })
  }
}

function bareInspection(sha256: string) {
  return { sha256, sizeBytes: 40_000, sampleHash: null, facts: null, measures: null, problem: null }
}

function hashOf(n: number): string {
  return createHash('sha256').update(String(n)).digest('hex')
}
