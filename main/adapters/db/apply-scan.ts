import { createHash } from 'node:crypto'
import type { ScanProblem } from '../../../app/model/library.ts'
import type { KnownFile, ScanApplied, ScannedEdition } from '../../../app/ports/library-records.ts'
import { refuseUnknownRoot, settleEditionStates } from './library-writes.ts'
import { nameKey } from './name-key.ts'
import { proposedCreatorId } from './people.ts'
import type { WriteContext } from './write-context.ts'

/**
 * Writes what one scan of one root found, in steps of one transaction, so that a root of a hundred
 * thousand files never stands in one message: begin, files and editions as often as it takes, finish.
 */
export interface ScanApplication {
  addFiles(files: readonly KnownFile[]): void
  addEditions(editions: readonly ScannedEdition[]): void
  finish(problems: readonly ScanProblem[], treeDigest: string | null): ScanApplied
}

/** @throws AppError `root/unknown` */
export async function beginScanApplication(context: WriteContext, rootId: string): Promise<ScanApplication> {
  await refuseUnknownRoot(context, rootId)
  const { connection } = context
  connection.prepare('DELETE FROM known_file WHERE root_id = ?').run(rootId)
  const counts = { added: 0, changed: 0, unchanged: 0, relinked: 0 }
  const seenPlaces = new Set<string>()
  return {
    addFiles(files) {
      const put = connection.prepare(
        'INSERT INTO known_file (root_id, path, size_bytes, modified_ns, file_key, sha256) VALUES (?, ?, ?, ?, ?, ?)',
      )
      for (const file of files) {
        put.run(rootId, file.path, file.sizeBytes, file.modifiedNs, file.fileKey, file.sha256)
      }
    },
    addEditions(editions) {
      for (const edition of editions) {
        const { placeId, outcome } = applyEdition(context, rootId, edition)
        seenPlaces.add(placeId)
        counts[outcome]++
      }
    },
    finish(problems, treeDigest) {
      const vanish = connection.prepare(`UPDATE place SET state = 'gone' WHERE id = ?`)
      const present = connection
        .prepare(`SELECT id FROM place WHERE root_id = ? AND state = 'present'`)
        .pluck()
        .all(rootId) as string[]
      for (const id of present) if (!seenPlaces.has(id)) vanish.run(id)
      const gone = settleEditionStates(context)
      replaceProblems(context, rootId, problems)
      connection
        .prepare('UPDATE root SET last_scan_at = ?, files_digest = ? WHERE id = ?')
        .run(context.at(), treeDigest, rootId)
      context.journal('scanned', 'root', rootId)
      return { ...counts, gone }
    },
  }
}

type Outcome = 'added' | 'changed' | 'unchanged' | 'relinked'

interface KnownPlace {
  readonly id: string
  readonly edition_id: string
  readonly state: string
  readonly scan_digest: string
}

function applyEdition(
  context: WriteContext,
  rootId: string,
  scanned: ScannedEdition,
): { readonly placeId: string; readonly outcome: Outcome } {
  const { connection } = context
  const place = connection
    .prepare(
      `SELECT id, edition_id, state, scan_digest FROM place
       WHERE root_id = ? AND path = ? AND ifnull(inner_path, '') = ?`,
    )
    .get(rootId, scanned.place.path, scanned.place.innerPath ?? '') as KnownPlace | undefined
  const soundsHash = hashOf(scanned.sounds.map((sound) => sound.sha256).toSorted())
  const digest = hashOf([
    JSON.stringify([scanned.schemeId, scanned.sounds, scanned.companions, scanned.litter]),
  ])
  const sameEdition = place !== undefined && place.edition_id === scanned.editionId
  if (sameEdition && place.state === 'present' && place.scan_digest === digest) {
    return { placeId: place.id, outcome: 'unchanged' }
  }

  let editionId = scanned.editionId
  let outcome: Outcome = sameEdition && place.scan_digest === digest ? 'unchanged' : 'changed'
  if (editionId === null) {
    editionId = addEdition(context, fontOf(context, scanned), scanned.version)
    outcome = 'added'
  } else if (!sameEdition) {
    outcome = 'relinked'
  } else if (livesOnElsewhere(context, editionId, place.id, soundsHash)) {
    // The other copy is as it was: what changed here is another edition of the same font.
    editionId = addEdition(context, fontIdOf(context, editionId), scanned.version)
    outcome = 'added'
  }
  if (outcome === 'added' || outcome === 'changed' || soundsDiffer(context, editionId, soundsHash)) {
    putContents(context, editionId, scanned, soundsHash)
  }
  const placeId = place?.id ?? context.newId()
  connection
    .prepare(
      `INSERT INTO place (id, edition_id, root_id, path, inner_path, state, sounds_hash, scan_digest)
       VALUES (?, ?, ?, ?, ?, 'present', ?, ?)
       ON CONFLICT (id) DO UPDATE SET edition_id = excluded.edition_id, state = 'present',
         sounds_hash = excluded.sounds_hash, scan_digest = excluded.scan_digest`,
    )
    .run(placeId, editionId, rootId, scanned.place.path, scanned.place.innerPath, soundsHash, digest)
  if (outcome !== 'unchanged') context.journal(outcome, 'edition', editionId)
  return { placeId, outcome }
}

/** Whether another place still has the edition's sounds, while this place now has others. */
function livesOnElsewhere(
  context: WriteContext,
  editionId: string,
  placeId: string,
  soundsHash: string,
): boolean {
  return (
    context.connection
      .prepare(
        `SELECT 1 FROM place JOIN edition ON edition.id = place.edition_id
         WHERE place.edition_id = ? AND place.id <> ? AND place.state = 'present'
           AND place.sounds_hash = edition.sounds_hash AND edition.sounds_hash <> ?`,
      )
      .get(editionId, placeId, soundsHash) !== undefined
  )
}

function soundsDiffer(context: WriteContext, editionId: string, soundsHash: string): boolean {
  const stored = context.connection
    .prepare('SELECT sounds_hash FROM edition WHERE id = ?')
    .pluck()
    .get(editionId)
  return stored !== soundsHash
}

function fontIdOf(context: WriteContext, editionId: string): string {
  return context.connection
    .prepare('SELECT font_id FROM edition WHERE id = ?')
    .pluck()
    .get(editionId) as string
}

/** The font of that name by that creator, as proposed or as set; a new one where there is none. */
function fontOf(context: WriteContext, scanned: ScannedEdition): string {
  const { connection } = context
  const key = nameKey(scanned.fontName)
  const proposed = scanned.proposedCreatorName ?? ''
  const found = connection
    .prepare(
      `SELECT font.id FROM font
         LEFT JOIN creator ON creator.id = font.creator_id
         LEFT JOIN proposed_creator ON proposed_creator.id = font.proposed_creator_id
       WHERE font.name_key = ?
         AND (ifnull(proposed_creator.name_key, '') = ? OR creator.name_key = ?)
       ORDER BY font.id LIMIT 1`,
    )
    .pluck()
    .get(key, nameKey(proposed), nameKey(proposed)) as string | undefined
  if (found !== undefined) return found
  const id = context.newId()
  connection
    .prepare(
      'INSERT INTO font (id, name, name_key, creator_id, proposed_creator_id) VALUES (?, ?, ?, NULL, ?)',
    )
    .run(id, scanned.fontName, key, proposedCreatorId(context, scanned.proposedCreatorName))
  context.journal('added', 'font', id)
  return id
}

function addEdition(context: WriteContext, fontId: string, version: string): string {
  const id = context.newId()
  context.connection
    .prepare(
      `INSERT INTO edition (id, font_id, version, state, scheme_id, sounds_hash, sound_count,
         companion_count, size_bytes, litter, first_seen_at)
       VALUES (?, ?, ?, 'present', NULL, '', 0, 0, 0, '[]', ?)`,
    )
    .run(id, fontId, version, context.at())
  return id
}

interface KnownSound {
  readonly id: string
  readonly path: string
  readonly sha256: string
  readonly role: string | null
  readonly part: string | null
  readonly layer: string | null
  readonly number: number | null
  readonly role_source: string | null
}

/** Replaces what the edition holds; a sound keeps its id by its path, and a role that the user gave it. */
function putContents(
  context: WriteContext,
  editionId: string,
  scanned: ScannedEdition,
  soundsHash: string,
): void {
  const { connection } = context
  const before = connection.prepare('SELECT * FROM sound WHERE edition_id = ?').all(editionId) as KnownSound[]
  const byPath = new Map(before.map((sound) => [sound.path, sound]))
  const setByUser = before.filter((sound) => sound.role_source === 'user')
  const setByHash = new Map(setByUser.map((sound) => [sound.sha256, sound]))
  connection.prepare('DELETE FROM sound WHERE edition_id = ?').run(editionId)
  connection.prepare('DELETE FROM companion WHERE edition_id = ?').run(editionId)

  const putSound = connection.prepare(
    `INSERT INTO sound (id, edition_id, path, sha256, role, part, layer, number, role_source)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  )
  for (const { path, sha256, place, roleSource } of scanned.sounds) {
    const known = byPath.get(path)
    const set = known?.role_source === 'user' ? known : setByHash.get(sha256)
    const role = set ?? {
      role: place?.role ?? null,
      part: place?.part ?? null,
      layer: place?.layer ?? null,
      number: place?.number ?? null,
      role_source: roleSource,
    }
    const id = known?.id ?? context.newId()
    putSound.run(id, editionId, path, sha256, role.role, role.part, role.layer, role.number, role.role_source)
  }
  const putCompanion = connection.prepare(
    'INSERT INTO companion (edition_id, path, size_bytes, sha256, kind) VALUES (?, ?, ?, ?, ?)',
  )
  for (const { path, sizeBytes, sha256, kind } of scanned.companions) {
    putCompanion.run(editionId, path, sizeBytes, sha256, kind)
  }
  const soundBytes = connection
    .prepare(
      'SELECT ifnull(sum(size_bytes), 0) FROM sound JOIN inspection USING (sha256) WHERE edition_id = ?',
    )
    .pluck()
    .get(editionId) as number
  const companionBytes = scanned.companions.reduce((sum, companion) => sum + companion.sizeBytes, 0)
  connection
    .prepare(
      `UPDATE edition SET scheme_id = ?, sounds_hash = ?, sound_count = ?, companion_count = ?,
         size_bytes = ?, litter = ? WHERE id = ?`,
    )
    .run(
      scanned.schemeId,
      soundsHash,
      scanned.sounds.length,
      scanned.companions.length,
      soundBytes + companionBytes,
      JSON.stringify(scanned.litter),
      editionId,
    )
}

function replaceProblems(context: WriteContext, rootId: string, problems: readonly ScanProblem[]): void {
  const { connection } = context
  connection.prepare('DELETE FROM scan_problem WHERE root_id = ?').run(rootId)
  const put = connection.prepare(
    'INSERT INTO scan_problem (root_id, position, path, code, message, severity) VALUES (?, ?, ?, ?, ?, ?)',
  )
  problems.forEach(({ path, code, message, severity }, position) =>
    put.run(rootId, position, path, code, message, severity),
  )
}

function hashOf(lines: readonly string[]): string {
  const hash = createHash('sha256')
  for (const line of lines) hash.update(line).update('\n')
  return hash.digest('hex')
}
