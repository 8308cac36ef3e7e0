import { AppError } from '../../../app/errors/app-error.ts'
import type { LibraryWriter } from '../../../app/ports/library-records.ts'
import { putInspections, putPeaksPlaces } from './inspection-rows.ts'
import { unknownFont } from './library-reads.ts'
import { nameKey } from './name-key.ts'
import { refuseUnknownCreator } from './records-writes.ts'
import type { WriteContext } from './write-context.ts'

/** Writing the library, but for scans: those come in steps, see apply-scan.ts. */
export function libraryWrites(context: WriteContext): Omit<LibraryWriter, 'applyScan'> {
  const { kysely } = context.connection
  return {
    async addRoot({ path, kind, addedAt }) {
      const known = await kysely.selectFrom('root').selectAll().where('path', '=', path).executeTakeFirst()
      if (known === undefined) {
        const id = context.newId()
        await kysely.insertInto('root').values({ id, path, kind, added_at: addedAt }).execute()
        context.journal('added', 'root', id)
        return { id, path, kind, addedAt, lastScanAt: null }
      }
      const root = { id: known.id, path, kind, addedAt: known.added_at, lastScanAt: known.last_scan_at }
      if (known.removed_at === null && known.kind === kind) return root
      // A root that comes back keeps its id, and with it what is known of its editions.
      await kysely
        .updateTable('root')
        .set({ kind, removed_at: null, ...(known.removed_at === null ? {} : { added_at: addedAt }) })
        .where('id', '=', known.id)
        .execute()
      context.journal('added', 'root', known.id)
      return known.removed_at === null ? root : { ...root, addedAt }
    },
    async removeRoot(rootId) {
      await refuseUnknownRoot(context, rootId)
      await kysely.updateTable('place').set({ state: 'gone' }).where('root_id', '=', rootId).execute()
      settleEditionStates(context)
      await kysely.deleteFrom('known_file').where('root_id', '=', rootId).execute()
      await kysely.deleteFrom('scan_problem').where('root_id', '=', rootId).execute()
      await kysely
        .updateTable('root')
        .set({ removed_at: context.at(), tree_digest: null, last_scan_at: null })
        .where('id', '=', rootId)
        .execute()
      context.journal('removed', 'root', rootId)
    },
    async keepInspections(inspections, peaks) {
      putInspections(context.connection, inspections)
      putPeaksPlaces(context.connection, peaks)
    },
    async keepSpeakerLevels(limitHz, levels) {
      const put = context.connection.prepare(
        `INSERT OR REPLACE INTO speaker_level (low_limit_hz, sound_key, integrated_lufs, momentary_max_lufs)
         VALUES (?, ?, ?, ?)`,
      )
      for (const { soundKey, readings } of levels) {
        put.run(limitHz, soundKey, readings.integratedLufs, readings.momentaryMaxLufs)
      }
    },
    async noteUnchangedScan(rootId, at) {
      await refuseUnknownRoot(context, rootId)
      context.connection.prepare('UPDATE root SET last_scan_at = ? WHERE id = ?').run(at, rootId)
    },
    async changeFont(editionId, { name, version, creatorId }) {
      const edition = await kysely
        .selectFrom('edition')
        .select('font_id')
        .where('id', '=', editionId)
        .executeTakeFirst()
      if (edition === undefined) throw unknownFont(editionId)
      if (typeof creatorId === 'string') await refuseUnknownCreator(context, creatorId)
      const font = kysely.updateTable('font').where('id', '=', edition.font_id)
      if (name !== undefined) {
        await font.set({ name, name_key: nameKey(name), name_is_set: 1 }).execute()
        context.journal('changed name', 'font', edition.font_id)
      }
      if (creatorId !== undefined) {
        await font.set({ creator_id: creatorId }).execute()
        context.journal('changed creator', 'font', edition.font_id)
      }
      if (version !== undefined) {
        await kysely
          .updateTable('edition')
          .set({ version, version_is_set: 1 })
          .where('id', '=', editionId)
          .execute()
        context.journal('changed version', 'edition', editionId)
      }
    },
    async setPlaces(editionId, changes) {
      const edition = await kysely
        .selectFrom('edition')
        .select('id')
        .where('id', '=', editionId)
        .executeTakeFirst()
      if (edition === undefined) throw unknownFont(editionId)
      const set = context.connection.prepare(
        `UPDATE sound SET role = ?, part = ?, layer = ?, number = ?, role_source = ?
         WHERE edition_id = ? AND path = ?`,
      )
      for (const { path, place, roleSource } of changes) {
        const columns = [place?.role, place?.part, place?.layer, place?.number].map((value) => value ?? null)
        set.run(...columns, roleSource, editionId, path)
      }
      context.journal('changed roles', 'edition', editionId)
    },
  }
}

/** @throws AppError `root/unknown` */
export async function refuseUnknownRoot({ connection }: WriteContext, rootId: string): Promise<void> {
  const root = connection.prepare('SELECT 1 FROM root WHERE id = ? AND removed_at IS NULL').get(rootId)
  if (root !== undefined) return
  throw new AppError({
    code: 'root/unknown',
    what: 'The workshop has no scan root of this id.',
    where: rootId,
    mend: '`roots list` shows all roots.',
  })
}

/**
 * An edition is there as long as one of its places is.
 * @returns how many that were there are gone now
 */
export function settleEditionStates({ connection }: WriteContext): number {
  const somewhere = `EXISTS (SELECT 1 FROM place WHERE edition_id = edition.id AND place.state = 'present')`
  connection.prepare(`UPDATE edition SET state = 'present' WHERE state = 'gone' AND ${somewhere}`).run()
  return connection
    .prepare(`UPDATE edition SET state = 'gone' WHERE state = 'present' AND NOT ${somewhere}`)
    .run().changes
}
