import type { Build } from '../../../app/model/records.ts'
import type { SoundPlace } from '../../../app/model/role.ts'
import type { SingleSound } from '../../../app/model/single-sound.ts'
import type { Connection } from './connection.ts'
import type { Tables } from './tables.ts'
import type { WriteContext } from './write-context.ts'

/** Single sounds of a build, in the order in which they were told. */
export async function readSingleSounds(
  { kysely }: Connection,
  buildId: string,
): Promise<readonly SingleSound[]> {
  const rows = await kysely
    .selectFrom('build_sound')
    .selectAll()
    .where('build_id', '=', buildId)
    .orderBy('position')
    .execute()
  return rows.map(singleSoundOf)
}

function singleSoundOf(row: Tables['build_sound']): SingleSound {
  const editionId = row.edition_id
  const path = row.path ?? ''
  const sound = { editionId: row.from_edition_id ?? '', path: row.from_path ?? '' }
  if (row.kind === 'left-out') return { kind: 'left-out', editionId, path }
  if (row.kind === 'replaced') return { kind: 'replaced', editionId, path, sound }
  const place = row.place === null ? null : (JSON.parse(row.place) as SoundPlace)
  return { kind: 'added', editionId, sound, place }
}

/** Puts these in the place of all that the build had. */
export async function putSingleSounds(
  { connection }: WriteContext,
  buildId: string,
  sounds: readonly SingleSound[],
): Promise<void> {
  await connection.kysely.deleteFrom('build_sound').where('build_id', '=', buildId).execute()
  const put = connection.prepare(
    `INSERT INTO build_sound (build_id, position, kind, edition_id, path, from_edition_id, from_path, place)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  )
  for (const [position, single] of sounds.entries()) {
    const from = single.kind === 'left-out' ? null : single.sound
    const place = single.kind === 'added' && single.place !== null ? JSON.stringify(single.place) : null
    const path = single.kind === 'added' ? null : single.path
    put.run(
      buildId,
      position,
      single.kind,
      single.editionId,
      path,
      from?.editionId ?? null,
      from?.path ?? null,
      place,
    )
  }
}

/** Keeps a config as the build's next version, where it is not the last one still. */
export function putConfigVersion(
  { connection, at }: WriteContext,
  buildId: string,
  config: Build['config'],
): void {
  if (config === null) return
  const last = connection
    .prepare(
      'SELECT number, file_name, text FROM build_config WHERE build_id = ? ORDER BY number DESC LIMIT 1',
    )
    .get(buildId) as Pick<Tables['build_config'], 'number' | 'file_name' | 'text'> | undefined
  if (last?.file_name === config.fileName && last.text === config.text) return
  connection
    .prepare(
      'INSERT INTO build_config (build_id, number, file_name, text, recorded_at) VALUES (?, ?, ?, ?, ?)',
    )
    .run(buildId, (last?.number ?? 0) + 1, config.fileName, config.text, at())
}
