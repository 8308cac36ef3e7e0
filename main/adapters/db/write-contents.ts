import type { ScannedEdition } from '../../../app/ports/library-records.ts'
import type { Companion } from '../../../app/model/sound.ts'
import type { Connection } from './connection.ts'
import type { WriteContext } from './write-context.ts'
import { writeSounds } from './write-sounds.ts'

/**
 * Makes an edition's sounds, companions and litter those that were scanned.
 * @returns whether anything was not so before
 */
export function writeContents(
  context: WriteContext,
  editionId: string,
  scanned: ScannedEdition,
  soundsHash: string,
): boolean {
  const { connection } = context
  const before = connection.prepare('SELECT scheme_id, litter FROM edition WHERE id = ?').get(editionId) as {
    scheme_id: string | null
    litter: string
  }
  const litter = JSON.stringify(scanned.litter)
  const soundsChanged = writeSounds(context, editionId, scanned.sounds)
  const companionsChanged = writeCompanions(connection, editionId, scanned.companions)
  if (
    !soundsChanged &&
    !companionsChanged &&
    before.scheme_id === scanned.schemeId &&
    before.litter === litter
  ) {
    return false
  }
  connection
    .prepare(
      `UPDATE edition SET scheme_id = @schemeId, litter = @litter, sounds_hash = @soundsHash,
         sound_count = (SELECT count(*) FROM sound WHERE edition_id = @id),
         companion_count = (SELECT count(*) FROM companion WHERE edition_id = @id),
         size_bytes =
           (SELECT ifnull(sum(size_bytes), 0) FROM sound JOIN inspection USING (sha256) WHERE edition_id = @id)
           + (SELECT ifnull(sum(size_bytes), 0) FROM companion WHERE edition_id = @id)
       WHERE id = @id`,
    )
    .run({ id: editionId, schemeId: scanned.schemeId, litter, soundsHash })
  return true
}

function writeCompanions(
  connection: Connection,
  editionId: string,
  companions: readonly Companion[],
): boolean {
  const line = ({ path, sizeBytes, sha256, kind }: Companion) =>
    JSON.stringify([path, sizeBytes, sha256, kind])
  const known = connection
    .prepare('SELECT path, size_bytes AS sizeBytes, sha256, kind FROM companion WHERE edition_id = ?')
    .all(editionId) as Companion[]
  const knownLines = new Set(known.map(line))
  if (known.length === companions.length && companions.every((one) => knownLines.has(line(one)))) return false
  connection.prepare('DELETE FROM companion WHERE edition_id = ?').run(editionId)
  const put = connection.prepare(
    'INSERT INTO companion (edition_id, path, size_bytes, sha256, kind) VALUES (?, ?, ?, ?, ?)',
  )
  for (const { path, sizeBytes, sha256, kind } of companions)
    put.run(editionId, path, sizeBytes, sha256, kind)
  return true
}
