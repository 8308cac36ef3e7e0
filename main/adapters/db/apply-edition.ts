import type { Selectable } from 'kysely'
import type { ScannedEdition } from '../../../app/ports/library-records.ts'
import type { Connection } from './connection.ts'
import { fontOfNewEdition } from './match-font.ts'
import type { ScanRun } from './scan-run.ts'
import type { EditionHead, NumberedEdition } from './scan-steps.ts'
import type { EditionRow, PlaceRow } from './tables.ts'
import type { WriteContext } from './write-context.ts'
import { writeContents } from './write-contents.ts'

type KnownEdition = Selectable<EditionRow>
/** `position` tells which place was found first. */
type FoundPlace = PlaceRow & { readonly position: number }

/** Writes one scanned edition, and counts it as what it was found to be. */
export function applyEdition(
  outer: WriteContext,
  run: ScanRun,
  { number, edition, ids }: NumberedEdition,
): void {
  const head = run.heads[number]
  if (head === undefined) throw new RangeError(`edition ${number} came without its head`)
  const context = withIds(outer, ids)
  const { connection } = context
  const place = findPlace(connection, run.rootId, head)
  const told = head.editionId === null ? undefined : getEditionRow(connection, head.editionId)
  const known = editionAt(connection, run, head, told, place)

  if (known === undefined) {
    const id = addEdition(context, run, edition, head, told)
    putPlace(context, run, place, id, head)
    writeContents(context, id, edition, head.soundsHash)
    run.counts.added += 1
    context.journal('added', 'edition', id)
    return
  }
  const isNewPlace = place === undefined || place.edition_id !== known.id || place.state === 'gone'
  // Of several copies the first one tells the names; the others may spell them otherwise.
  const isFurtherCopy =
    known.sounds_hash === head.soundsHash &&
    otherHolders(connection, run, known, place).some((other) => isBefore(other, place))
  putPlace(context, run, place, known.id, head)
  const hasChanged = !isFurtherCopy && writeContents(context, known.id, edition, head.soundsHash)
  if (isNewPlace) {
    run.counts.relinked += 1
    const { fontName, version, proposedCreatorName } = edition
    run.moved.push({ editionId: known.id, fontName, version, proposedCreatorName, id: context.newId() })
    context.journal('found elsewhere', 'edition', known.id)
  } else if (hasChanged) {
    run.counts.changed += 1
    context.journal('changed', 'edition', known.id)
  } else {
    run.counts.unchanged += 1
  }
}

/**
 * The edition that lies at this place now: the one that is told where its sounds are as they were; else
 * one with just these sounds; else the one that is told, which has changed, unless another place still
 * holds it as it was. Undefined for a new one.
 */
function editionAt(
  connection: Connection,
  run: ScanRun,
  head: EditionHead,
  told: KnownEdition | undefined,
  place: FoundPlace | undefined,
): KnownEdition | undefined {
  if (told?.sounds_hash === head.soundsHash) return told
  const same = connection
    .prepare('SELECT * FROM edition WHERE sounds_hash = ? ORDER BY rowid LIMIT 1')
    .get(head.soundsHash) as KnownEdition | undefined
  if (same !== undefined) return same
  return told !== undefined && otherHolders(connection, run, told, place).length === 0 ? told : undefined
}

/** Other places that hold the edition as it is known; those of this root as this scan sees them. */
function otherHolders(
  connection: Connection,
  run: ScanRun,
  edition: KnownEdition,
  place: FoundPlace | undefined,
): readonly FoundPlace[] {
  const places = connection
    .prepare("SELECT rowid AS position, * FROM place WHERE edition_id = ? AND state = 'present'")
    .all(edition.id) as FoundPlace[]
  return places.filter((other) => {
    if (other.id === place?.id) return false
    if (other.root_id !== run.rootId) return other.sounds_hash === edition.sounds_hash
    return run.headAt(other.path, other.inner_path)?.soundsHash === edition.sounds_hash
  })
}

/** @param from the edition that this one was until it changed; it stays in the same font */
function addEdition(
  context: WriteContext,
  run: ScanRun,
  scanned: ScannedEdition,
  head: EditionHead,
  from: KnownEdition | undefined,
): string {
  const id = context.newId()
  const fontId = from?.font_id ?? fontOfNewEdition(context, scanned)
  const version = from?.version_is_set === 1 ? from.version : scanned.version
  context.connection
    .prepare(
      `INSERT INTO edition (id, font_id, version, version_is_set, state, scheme_id, sounds_hash,
         sound_count, companion_count, size_bytes, litter, first_seen_at)
       VALUES (?, ?, ?, ?, 'present', NULL, ?, 0, 0, 0, '[]', ?)`,
    )
    .run(id, fontId, version, from?.version_is_set ?? 0, head.soundsHash, run.at)
  return id
}

function isBefore(a: FoundPlace, b: FoundPlace | undefined): boolean {
  return b === undefined || a.position < b.position
}

function putPlace(
  context: WriteContext,
  run: ScanRun,
  place: FoundPlace | undefined,
  editionId: string,
  head: EditionHead,
): void {
  const { connection } = context
  const id = place?.id ?? context.newId()
  run.seenPlaces.add(id)
  if (place === undefined) {
    connection
      .prepare(
        `INSERT INTO place (id, edition_id, root_id, path, inner_path, state, sounds_hash, scan_digest)
         VALUES (?, ?, ?, ?, ?, 'present', ?, ?)`,
      )
      .run(id, editionId, run.rootId, head.path, head.innerPath, head.soundsHash, head.digest)
    return
  }
  connection
    .prepare(
      "UPDATE place SET edition_id = ?, state = 'present', sounds_hash = ?, scan_digest = ? WHERE id = ?",
    )
    .run(editionId, head.soundsHash, head.digest, id)
}

function findPlace(connection: Connection, rootId: string, head: EditionHead): FoundPlace | undefined {
  return connection
    .prepare(
      "SELECT rowid AS position, * FROM place WHERE root_id = ? AND path = ? AND ifnull(inner_path, '') = ?",
    )
    .get(rootId, head.path, head.innerPath ?? '') as FoundPlace | undefined
}

function getEditionRow(connection: Connection, id: string): KnownEdition {
  const row = connection.prepare('SELECT * FROM edition WHERE id = ?').get(id) as KnownEdition | undefined
  if (row === undefined) throw new RangeError(`the scan names an edition that is not there: ${id}`)
  return row
}

function withIds(context: WriteContext, ids: readonly string[]): WriteContext {
  let used = 0
  return {
    ...context,
    newId: () => {
      const id = ids[used++]
      if (id === undefined) throw new RangeError('an edition needed more ids than its step brought')
      return id
    },
  }
}
