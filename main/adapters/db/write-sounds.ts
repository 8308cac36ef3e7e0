import type { SoundPlace } from '../../../app/model/role.ts'
import type { ScannedSound } from '../../../app/ports/library-records.ts'
import type { SoundRow } from './tables.ts'
import type { WriteContext } from './write-context.ts'

/**
 * Makes an edition's sounds those that were scanned. A sound is known again by its path, else (where
 * it was renamed) by its bytes, and keeps its id and the role that the user gave it.
 * @returns whether anything was not so before
 */
export function writeSounds(
  context: WriteContext,
  editionId: string,
  scanned: readonly ScannedSound[],
): boolean {
  const { connection } = context
  const known = connection.prepare('SELECT * FROM sound WHERE edition_id = ?').all(editionId) as SoundRow[]
  const leftByPath = new Map(known.map((row) => [row.path, row]))
  const pairs = scanned.map((sound): [ScannedSound, SoundRow | undefined] => {
    const row = leftByPath.get(sound.path)
    leftByPath.delete(sound.path)
    return [sound, row]
  })
  const leftByHash = Map.groupBy(leftByPath.values(), (row) => row.sha256)

  const add = connection.prepare(
    `INSERT INTO sound (id, edition_id, path, sha256, role, part, layer, number, role_source)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  )
  const change = connection.prepare(
    `UPDATE sound SET path = ?, sha256 = ?, role = ?, part = ?, layer = ?, number = ?, role_source = ?
     WHERE id = ?`,
  )
  let hasChanged = false
  for (const [sound, samePath] of pairs) {
    const row = samePath ?? leftByHash.get(sound.sha256)?.pop()
    if (row === undefined) {
      add.run(context.newId(), editionId, sound.path, sound.sha256, ...columns(sound.place), sound.roleSource)
      hasChanged = true
      continue
    }
    leftByPath.delete(row.path)
    const keepsRole = row.role_source === 'user' && sound.roleSource !== 'user'
    const place = keepsRole ? [row.role, row.part, row.layer, row.number] : columns(sound.place)
    const after = [sound.path, sound.sha256, ...place, keepsRole ? 'user' : sound.roleSource]
    const before = [row.path, row.sha256, row.role, row.part, row.layer, row.number, row.role_source]
    if (after.every((value, at) => value === before[at])) continue
    change.run(...after, row.id)
    hasChanged = true
  }
  const remove = connection.prepare('DELETE FROM sound WHERE id = ?')
  for (const row of leftByPath.values()) remove.run(row.id)
  return hasChanged || leftByPath.size > 0
}

function columns(place: SoundPlace | null) {
  return place === null ? [null, null, null, null] : [place.role, place.part, place.layer, place.number]
}
